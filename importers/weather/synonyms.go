package weather

import (
	"strings"

	"saltpan/importers/importer/table"
)

// meaning is what a column holds.
type meaning int

const (
	nothing meaning = iota
	when            // a date, a time of day, or both; its cells say which
	airTemp
	dewPoint
	humidity
	wind
	sun
	pressure
	unitName // the unit of the temperatures, row by row
	station
)

func (m meaning) String() string {
	return [...]string{"nothing", "time", "air temperature", "dew point", "relative humidity", "wind speed",
		"solar radiation", "pressure", "unit", "station"}[m]
}

// synonyms are the words for a meaning, as table.Words folds a header, by
// commas, and the unit that they name by themselves. They are the general
// words of each language, none of a single service.
var synonyms = []struct {
	meaning meaning
	unit    string
	words   string
}{
	{when, "", `time, date, datetime, date time, date and time, timestamp, time stamp, valid, valid time, observed, observed at, observation time, obs time, epoch, unix, unix time, hour, local time, local standard time, standard time, stunde, date local,
		datum, zeit, uhrzeit, zeitpunkt, zeitstempel, messzeit, messzeitpunkt, datum uhrzeit, datum und uhrzeit, date heure, date et heure, heure, horodatage,
		fecha, hora, fecha hora, fecha y hora, data, ora, data ora, data e ora, data hora, data e hora, tijd, tijdstip, datum tijd, tid, tidspunkt, dato, klockslag, klokkeslett,
		aika, kellonaika, paivamaara, czas, godzina, data i godzina, cas, datum a cas, ido, idopont, tarih, saat, дата, время, дата и время, ημερομηνια, ωρα,
		日時, 日付, 時刻, 時間, 日期, 时间, 날짜, 시간, 일시`},
	{airTemp, "", `temp, temperature, t, ta, t2m, 2t, air temp, air temperature, temp air, temperature air, ambient temperature, outside temperature, outdoor temperature, dry bulb, dry bulb temperature,
		temperatur, lufttemperatur, aussentemperatur, temperature de l air, temperature exterieure, temperatura, temperatura del aire, temperatura dell aria, temperatura do ar, temperatura aria,
		temperatuur, luchttemperatuur, buitentemperatuur, lampotila, ilman lampotila, temperatura powietrza, teplota, teplota vzduchu, homerseklet, leghomerseklet, sicaklik, hava sicakligi,
		температура, температура воздуха, θερμοκρασια, 気温, 温度, 气温, 氣溫, 기온, 온도`},
	{airTemp, "c", "tmpc, tempc"}, {airTemp, "f", "tmpf, tempf"}, {airTemp, "k", "tmpk, tempk"},
	{dewPoint, "", `dew, dewpoint, dew point, dewpoint temperature, dew point temperature, dewpoint temp, dew point temp, td, d2m, 2d, dwp, dewp,
		taupunkt, taupunkttemperatur, point de rosee, temperature du point de rosee, punto de rocio, punto di rugiada, temperatura di rugiada, ponto de orvalho,
		dauwpunt, daggpunkt, duggpunkt, dugpunkt, kastepiste, punkt rosy, rosny bod, harmatpont, ciy noktasi, точка росы, σημειο δροσου, 露点, 露点温度, 露點, 이슬점`},
	{dewPoint, "c", "dwpc, dewpc, dewpointc"}, {dewPoint, "f", "dwpf, dewpf, dewpointf"}, {dewPoint, "k", "dwpk"},
	{humidity, "", `humidity, relative humidity, rel humidity, humidity relative, rh, relh, relhum, hum, r h,
		luftfeuchte, luftfeuchtigkeit, relative feuchte, relative luftfeuchte, relative luftfeuchtigkeit, rel luftfeuchte, rel luftfeuchtigkeit, rel feuchte, feuchte,
		humidite, humidite relative, humedad, humedad relativa, umidita, umidita relativa, umidade, umidade relativa, humidade, humidade relativa,
		luchtvochtigheid, relatieve vochtigheid, relatieve luchtvochtigheid, luftfuktighet, relativ fuktighet, relativ luftfuktighet, luftfugtighed, relativ luftfugtighed,
		kosteus, ilmankosteus, suhteellinen kosteus, wilgotnosc, wilgotnosc wzgledna, vlhkost, relativni vlhkost, paratartalom, relativ paratartalom, nem, bagil nem,
		влажность, относительная влажность, υγρασια, σχετικη υγρασια, 湿度, 相対湿度, 相对湿度, 濕度, 습도`},
	{wind, "", `wind, wind speed, windspeed, wind velocity, wspd, ws, wind spd, ff, windgeschwindigkeit, windstarke, vent, vitesse du vent, vitesse vent, viento, velocidad del viento, velocidad viento,
		vento, velocita del vento, velocita vento, velocidade do vento, velocidade vento, windsnelheid, vind, vindhastighet, vindstyrka, vindhastighed, tuuli, tuulen nopeus,
		wiatr, predkosc wiatru, vitr, rychlost vetru, szel, szelsebesseg, ruzgar, ruzgar hizi, ветер, скорость ветра, ανεμος, ταχυτητα ανεμου, 風速, 风速, 풍속`},
	{wind, "kt", "sknt, wind knots, windkt"}, {wind, "m s", "windms"}, {wind, "mph", "smph, windmph"}, {wind, "km h", "windkmh"},
	{sun, "", `solar, solar radiation, solar irradiance, radiation, irradiance, global radiation, global irradiance, shortwave radiation, short wave radiation, downward shortwave radiation, srad, sun,
		globalstrahlung, solarstrahlung, strahlung, rayonnement, rayonnement solaire, rayonnement global, radiacion, radiacion solar, radiacion global, radiazione, radiazione solare, radiazione globale,
		radiacao, radiacao solar, radiacao global, straling, globale straling, zonnestraling, globalstralning, solinstralning, globalstraling, sateily, promieniowanie, promieniowanie sloneczne,
		солнечная радиация, 日射量, 全天日射量, 太阳辐射, 일사량`},
	{sun, "w m2", "ghi, global horizontal irradiance"},
	{pressure, "", `pressure, station pressure, surface pressure, air pressure, atmospheric pressure, barometric pressure, pres, luftdruck, stationsdruck, pression, pression atmospherique, pression station,
		presion, presion atmosferica, pressione, pressione atmosferica, pressao, pressao atmosferica, luchtdruk, lufttryck, lufttrykk, lufttryk, ilmanpaine, cisnienie, tlak, tlak vzduchu, legnyomas, basinc,
		давление, атмосферное давление, πιεση, 気圧, 現地気圧, 气压, 氣壓, 기압`},
	{unitName, "", "unit, units, temperature unit, temp unit, einheit, unite, unidad, unita, unidade, eenheid, enhet, enhed, yksikko, jednostka, jednotka, birim, единица, 単位, 单位, 단위"},
	{station, "", `station, station id, station name, station code, stn, site, site id, icao, icao id, wmo, wmo id, stationsname, stationsnummer, stations id, nom station, estacion, stazione, estacao,
		weerstation, havaintoasema, asema, stacja, stanice, allomas, istasyon, станция, σταθμος, 観測所, 地点, 站点, 관측소, 지점`},
}

// notWeather are words in a header of tables that are not about the outside
// air: of scales, of watches and of our own sheets.
const notWeather = `weight, body weight, bodyweight, mass, body mass, body temperature, skin temperature, gewicht, korpergewicht, poids, peso, peso corporal, vikt, vekt, vægt, paino, waga, masa ciala,
	hmotnost, testsuly, kilo, agirlik, вес, 体重, 體重, 体重値, 몸무게, 체중, bmi, body fat, fat,
	session, session id, session key, drunk, heart rate, heartrate, hr, bpm, cadence, lap, laps, distance, pace, power, reps`

// word is how a header cell was recognised.
type word struct {
	meaning meaning
	unit    string // of the numbers below it, empty if not said
	text    string // the synonym
}

// The vocabularies, made once of the lists above.
var (
	vocabulary = func() map[string]word {
		out := map[string]word{}
		for _, s := range synonyms {
			for _, w := range list(s.words) {
				out[w] = word{s.meaning, s.unit, w}
			}
		}
		return out
	}()
	notWeatherWords = func() map[string]bool {
		out := map[string]bool{}
		for _, w := range list(notWeather) {
			out[w] = true
		}
		return out
	}()
)

func list(words string) []string {
	var out []string
	for _, w := range strings.Split(words, ",") {
		out = append(out, table.Fold(strings.Join(strings.Fields(w), " ")))
	}
	return out
}
