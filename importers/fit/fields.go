package fit

// Message numbers of the FIT profile.
const (
	mesgFileID           = 0
	mesgSport            = 12
	mesgSession          = 18
	mesgLap              = 19
	mesgRecord           = 20
	mesgDeviceInfo       = 23
	mesgWeightScale      = 30
	mesgActivity         = 34
	mesgFieldDescription = 206
)

// Field numbers of the FIT profile, message by message, in the order above.
const (
	fieldTimestamp = 253

	fileIDType, fileIDManufacturer, fileIDProduct, fileIDSerial, fileIDCreated, fileIDProductName = 0, 1, 2, 3, 4, 8

	sportSport, sportSubSport = 0, 1

	sessionStart, sessionStartLat, sessionStartLong, sessionSport, sessionSubSport = 2, 3, 4, 5, 6
	sessionElapsed, sessionTimer, sessionDistance                                  = 7, 8, 9
	sessionMeanHR, sessionAscent, sessionMeanTemp                                  = 16, 22, 57

	lapStart, lapElapsed, lapDistance, lapSport, lapSubSport = 2, 7, 9, 25, 39

	recordLat, recordLong, recordAltitude, recordHR, recordDistance, recordSpeed = 0, 1, 2, 3, 5, 6
	recordSpeedDistance, recordTemp, recordFineSpeed, recordFineAltitude         = 8, 13, 73, 78

	deviceIndex, deviceManufacturer, deviceSerial, deviceProduct, deviceProductName = 0, 2, 3, 4, 27

	weightMass, weightUser = 0, 12

	activityLocal = 5

	descriptionName, descriptionUnits = 3, 8
)

// keeps reports whether a field is worth decoding. Of records, by far the most
// frequent, only the fields named above are.
func keeps(mesg uint16, num byte) bool {
	switch mesg {
	case mesgRecord:
		switch num {
		case recordLat, recordLong, recordAltitude, recordHR, recordDistance, recordSpeed,
			recordSpeedDistance, recordTemp, recordFineSpeed, recordFineAltitude:
			return true
		}
		return false
	case mesgFileID, mesgSport, mesgSession, mesgLap, mesgDeviceInfo, mesgWeightScale, mesgActivity,
		mesgFieldDescription:
		return true
	}
	return false
}
