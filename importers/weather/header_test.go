package weather

import (
	"strings"
	"testing"

	"saltpan/importers/importer"
)

// One hour in many tables: names and units in any order and language. Factors:
// NIST SP 811 (2008) appendix B.8: knot 0.514444 m/s, mile per hour
// 0.44704 m/s, inch of mercury 3386.389 Pa; °F by t = (F - 32)/1.8.
func TestColumns(t *testing.T) {
	const at = "2025-04-03T09:00:00 "
	for _, tt := range []struct{ header, row, want string }{
		{"time,temp_c", "2025-04-03T09:00Z,12.5", "12.5"},
		{"Temperature (°F),Time", "50,2025-04-03T09:00Z", "10"},
		{"tmpf,valid_utc,dwpf,relh,sknt", "68,2025-04-03 09:00,50,52.5,10", "20 d10 h52.5 w5.14444"},
		{"dwpc;tmpc;valid", "5;10;2025-04-03T09:00Z", "10 d5"},
		{"T [°C]|time UTC|Td [°C]", "10|2025-04-03 09:00|5", "10 d5"},
		{"temperature_2m (°C),wind_speed_10m (km/h),time", "10,36,2025-04-03T09:00Z", "10 w10"},
		{"t2m (K),d2m (K),time", "283.15,278.15,2025-04-03T09:00Z", "10 d5"},
		{"time,airTemp℃,windSpeed m/s", "2025-04-03T09:00Z,10,3", "10 w3"},
		{"time,temp_f,wind mph", "2025-04-03T09:00Z,50,10", "10 w4.4704"},
		{"time,temperature in °C,wind speed in knots", "2025-04-03T09:00Z,10,20", "10 w10.2889"},
		{"time,degrees C temp,temp mean", "2025-04-03T09:00Z,1,10", "10"},
		{"date,time,temp_c", "2025-04-03,09:00Z,10", "10"},
		{"time_utc,date,temp_c", "09:00,2025-04-03,10", "10"},
		{"hour (UTC),date,temp_c", "9,2025-04-03,10", "10"},
		{"Zeit (UTC);Lufttemperatur [°C];Taupunkt [°C];rel. Luftfeuchte [%];Windgeschwindigkeit [m/s];Luftdruck [hPa];Globalstrahlung [J/cm²]",
			"2025-04-03 09:00;10,5;5,5;71;3,5;1001,5;36", "10.5 d5.5 h71 w3.5 s100 p1001.5"},
		{"Horodatage UTC;Température °C;Point de rosée °C;Humidité %;Vitesse du vent km/h;Rayonnement W/m²", "2025-04-03 09:00;10;5;71;36;250", "10 d5 h71 w10 s250"},
		{"fecha y hora (UTC),temperatura (°C),humedad relativa (%),velocidad del viento (m/s)", "2025-04-03 09:00,10,71,3", "10 h71 w3"},
		{"data e ora UTC;temperatura °C;umidità %", "2025-04-03 09:00;10;71", "10 h71"},
		{"tid (UTC);vindhastighet m/s;lufttemperatur °C", "2025-04-03 09:00;3;10", "10 w3"},
		{"aika UTC;ilman lämpötila °C;kosteus %", "2025-04-03 09:00;10;71", "10 h71"},
		{"czas UTC;temperatura powietrza °C;ciśnienie hPa", "2025-04-03 09:00;10;1001", "10 p1001"},
		{"日時 UTC,気温 ℃,湿度 %,風速 m/s", "2025-04-03 09:00,10,71,3", "10 h71 w3"},
		{"дата и время UTC;температура воздуха °C", "2025-04-03 09:00;10", "10"},
		{"time,temp_c,pressure inHg", "2025-04-03T09:00Z,10,29.92", "10 p1013.21"},
		{"time,temp_c,pressure_mmHg", "2025-04-03T09:00Z,10,760", "10 p1013.25"},
		{"time,temp_c,pressure kPa,ghi", "2025-04-03T09:00Z,10,101.3,250", "10 s250 p1013"},
		{"time,temp_c,solar MJ/m2", "2025-04-03T09:00Z,10,3.6", "10 s1000"},
		{"time,temp,unit", "2025-04-03T09:00Z,50,F", "10"},
		{"time,temp,wind speed", "2025-04-03T09:00Z,50 °F,10 kt", "10 w5.14444"},
		{"time,temp,humidity,wind\n,°F,%,mph", "2025-04-03T09:00Z,50,71,10", "10 h71 w4.4704"},
		{"time,temp_c,temp_f", "2025-04-03T09:00Z,,50", "10"},
		{"time,local time,temp_c", "2025-04-03T09:00Z,2025-04-03 11:00,10", "10"},
		{"local time,time_utc,temp_c", "2025-04-03 11:00,2025-04-03 09:00,10", "10"},
		{"time,temp_c,wind gust m/s,soil temperature,mslp,wind direction", "2025-04-03T09:00Z,10,22,8,1019,40", "10"},
		{"Station,time,temp_c", "mast 4,2025-04-03T09:00Z,10", "10 mast 4"},
	} {
		line := ":2"
		if strings.Contains(tt.header, "\n") {
			line = ":3"
		}
		expect(t, tt.header, tt.header+"\n"+tt.row+"\n", importer.Hints{}, at+tt.want+" "+line)
	}
}

// A unit nobody says is found only where the numbers leave one.
func TestUnitsNobodySays(t *testing.T) {
	for _, tt := range []struct{ name, text, want string }{
		{"celsius", "time,t2m\n2025-04-03T09:00Z,12\n", "2025-04-03T09:00:00 12 :2"},
		{"kelvin", "time,t2m\n2025-04-03T09:00Z,283.15\n", "2025-04-03T09:00:00 10 :2"},
		{"too hot for celsius", "time,temp\n2025-04-03T09:00Z,12\n2025-04-03T10:00Z,61\n", "refused unknown-unit :1"},
		{"others in US units", "time,temp,wind_mph\n2025-04-03T09:00Z,40,1\n", "refused unknown-unit :1"},
		{"inches of rain", "time,temp,rain_in\n2025-04-03T09:00Z,40,1\n", "refused unknown-unit :1"},
		{"the word in", "time,temp,wind in m/s\n2025-04-03T09:00Z,40,1\n", "2025-04-03T09:00:00 40 w1 :2"},
		{"wind", "time,temp_c,wind\n2025-04-03T09:00Z,12,3\n", "2025-04-03T09:00:00 12 :2; unknown-unit :1"},
		{"sun", "time,temp_c,radiation\n2025-04-03T09:00Z,12,3\n", "2025-04-03T09:00:00 12 :2; unknown-unit :1"},
		{"pressure", "time,temp_c,pressure\n2025-04-03T09:00Z,12,1013\n", "2025-04-03T09:00:00 12 p1013 :2"},
		{"pascals", "time,temp_c,pressure\n2025-04-03T09:00Z,12,101300\n", "2025-04-03T09:00:00 12 p1013 :2"},
		{"mmHg or hPa", "time,temp_c,pressure\n2025-04-03T09:00Z,12,760\n", "2025-04-03T09:00:00 12 :2; unknown-unit :1"},
		{"humidity", "time,temp_c,rh\n2025-04-03T09:00Z,12,71\n2025-04-03T10:00Z,12,1\n", "2025-04-03T09:00:00 12 h71 :2; 2025-04-03T10:00:00 12 h1 :3"},
		{"fraction", "time,temp_c,rh\n2025-04-03T09:00Z,12,0.71\n2025-04-03T10:00Z,12,1\n", "2025-04-03T09:00:00 12 h71 :2; 2025-04-03T10:00:00 12 h100 :3"},
		{"unknown in the cell", "time,temp_c\n2025-04-03T09:00Z,12 R\n2025-04-03T10:00Z,12\n", "2025-04-03T10:00:00 12 :3; unknown-unit :2"},
	} {
		expect(t, tt.name, tt.text, importer.Hints{}, tt.want)
	}
}
