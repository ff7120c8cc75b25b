package fit

import "saltpan/pipeline/record"

// sports are the names of the FIT profile's sport numbers. Generic is "other".
var sports = map[int64]string{
	0: "other", 1: record.Running, 2: "cycling", 3: "transition", 4: "fitness equipment", 5: "swimming",
	6: "basketball", 7: "football", 8: "tennis", 9: "american football", 10: "training", 11: record.Walking,
	12: "cross-country skiing", 13: "alpine skiing", 14: "snowboarding", 15: "rowing", 16: "mountaineering",
	17: "hiking", 18: "multisport", 19: "paddling", 20: "flying", 21: "e-biking", 22: "motorcycling",
	23: "boating", 24: "driving", 25: "golf", 26: "hang gliding", 27: "horse riding", 28: "hunting",
	29: "fishing", 30: "inline skating", 31: "rock climbing", 32: "sailing", 33: "ice skating",
	34: "sky diving", 35: "snowshoeing", 36: "snowmobiling", 37: "stand-up paddling", 38: "surfing",
	39: "wakeboarding", 40: "water skiing", 41: "kayaking", 42: "rafting", 43: "windsurfing",
	44: "kitesurfing", 45: "tactical", 47: "boxing", 48: "floor climbing", 49: "baseball", 53: "diving",
	62: "interval training", 64: "racket", 65: "wheelchair walking", 66: "wheelchair running",
	67: "meditation", 69: "disc golf", 71: "cricket", 72: "rugby", 73: "hockey", 74: "lacrosse",
	75: "volleyball", 80: "martial arts", 82: "snorkeling", 83: "dance", 84: "rope skipping",
}

// subSports are the names of the FIT profile's sub-sport numbers that bear on
// where or how a bout was done.
var subSports = map[int64]string{
	1: "treadmill", 2: "street", 3: "trail", 4: "track", 5: "spin", 6: "indoor", 7: "road", 8: "mountain",
	9: "downhill", 11: "cyclocross", 13: "track", 14: "indoor rowing", 15: "elliptical",
	16: "stair climbing", 17: "lap swimming", 18: "open water", 19: "flexibility", 20: "strength",
	21: "warm-up", 22: "match", 23: "exercise", 24: "challenge", 25: "indoor skiing", 26: "cardio",
	27: "indoor", 30: "casual", 31: "speed", 32: "bike to run", 33: "run to bike", 34: "swim to bike",
	37: "backcountry", 38: "resort", 42: "skate skiing", 43: "yoga", 44: "pilates", 45: "indoor",
	46: "gravel", 48: "commuting", 49: "mixed surface", 58: "virtual", 59: "obstacle", 62: "breathing",
	67: "ultra", 68: "indoor climbing", 69: "bouldering", 70: "interval training",
}

const fitnessEquipment, treadmill = 4, 1

// sportOf is the sport and sub-sport of a session, else of the sport message,
// else of the first lap. On a treadmill, fitness equipment is for running.
func (p *part) sportOf(s session) (sport, sub string) {
	code, detail := s.sport, s.subSport
	if code < 0 {
		code, detail = p.sport[0], p.sport[1]
	}
	if code < 0 && len(p.laps) > 0 {
		code, detail = p.laps[0].sport, p.laps[0].subSport
	}
	if code == fitnessEquipment && detail == treadmill {
		return record.Running, subSports[treadmill]
	}
	switch name := sports[code]; {
	case code < 0:
		return record.UnknownSport, subSports[detail]
	case name == "":
		return "other", subSports[detail]
	default:
		return name, subSports[detail]
	}
}
