package scale

import (
	"strings"

	"saltpan/importers/importer/table"
)

// meaning is what a column holds.
type meaning int

const (
	nothing meaning = iota
	when            // a date, a time of day, or both; its cells say which
	mass
	unit
	person
)

func (m meaning) String() string { return [...]string{"nothing", "time", "mass", "unit", "person"}[m] }

// synonyms are the words for each meaning, folded as table.Words does, by
// commas. They are the general words of each language, none of a maker's own.
var synonyms = map[meaning]string{
	when: `date, time, datetime, date time, date and time, day, timestamp, time stamp, measured, measured at, measured on, measurement date,
		measurement time, date of measurement, time of measurement, time of day, recorded, recorded at, recorded on, weighed at, weighed on, taken at, when, clock, epoch, unix, unix time, utc, local time, at,
		datum, zeit, uhrzeit, zeitpunkt, zeitstempel, messzeit, messzeitpunkt, messdatum, gemessen, gemessen am, tag, datum und uhrzeit, datum uhrzeit,
		heure, horodatage, date et heure, date heure, jour, mesure le, date de mesure, heure de mesure,
		fecha, hora, fecha y hora, fecha hora, dia, medido, fecha de medicion, hora de medicion, momento,
		data, ora, orario, data e ora, data ora, giorno, misurato, data e hora, data hora, medido em,
		tijd, tijdstip, datum en tijd, datum tijd, gemeten, gemeten op, meetdatum,
		tid, tidspunkt, dato, klokkeslett, klokkeslæt, klockslag, dato og tid, datum och tid, matt, malt,
		paiva, paivamaara, paivays, aika, kellonaika, mitattu,
		data i godzina, godzina, czas, cas, datum a cas, idopont, datum, ido, tarih, saat, tarih saat,
		дата, время, дата и время, час, дата и час, ημερομηνια, ωρα,
		日時, 日付, 時刻, 時間, 測定日, 測定日時, 計測日時, 日期, 时间, 時間, 测量时间, 測量時間, 日期时间, 날짜, 시간, 일시, 측정일, 측정 시간`,
	mass: `weight, body weight, bodyweight, mass, body mass, wt, scale weight, reading,
		gewicht, korpergewicht, masse, korpermasse, poids, poids corporel, masse corporelle,
		peso, peso corporal, masa, masa corporal, peso corporeo, massa, massa corporea, massa corporal,
		lichaamsgewicht, vikt, kroppsvikt, vekt, kroppsvekt, vægt, kropsvægt, vaegt, kropsvaegt, paino, kehonpaino,
		waga, masa ciala, hmotnost, telesna hmotnost, vaha, testsuly, suly, kilo, agirlik, вес, масса, масса тела, вага, βαρος,
		体重, 體重, 体重値, 몸무게, 체중`,
	unit: `unit, units, weight unit, mass unit, unit of weight, einheit, gewichtseinheit, unite, unidad, unidades, unita, unidade,
		eenheid, enhet, enhed, yksikko, jednostka, jednotka, egyseg, birim, единица, единицы, единица измерения, μοναδα, 単位, 单位, 單位, 단위`,
	person: `person, user, username, user name, name, profile, profile name, member, family member, athlete, owner, runner, who,
		benutzer, nutzer, profil, mitglied, utilisateur, nom, prenom, membre, usuario, nombre, persona, perfil, miembro,
		utente, nome, profilo, usuario, pessoa, membro, gebruiker, naam, persoon, anvandare, namn, bruker, navn, bruger,
		kayttaja, nimi, henkilo, uzytkownik, osoba, imie, uzivatel, jmeno, felhasznalo, nev, kullanici, ad, isim,
		пользователь, имя, профиль, χρηστης, ονομα, 名前, 氏名, ユーザー, ユーザ, 用户, 姓名, 名字, 用戶, 사용자, 이름`,
}

// never are the words that keep a column from being the mass, wherever they
// stand in its header: other things a scale reports, and masses nobody has.
var never = words(`fat, fett, graisse, grasa, grasso, gordura, vet, rasva, tluszcz, tuk, yag, жир, жира, 脂肪, 지방,
	water, hydration, wasser, hydratation, eau, agua, acqua, vocht, vatten, vann, vand, vesi, woda, voda, viz, вода, воды, 水, 수분,
	muscle, muskel, musculaire, muscular, muscolo, muscolare, spier, lihas, miesni, miesniowa, sval, мышц, мышечная, 筋, 肌肉, 근육,
	bone, knochen, osseuse, os, hueso, osea, ossea, osso, bot, ben, luu, kosc, kosci, kost, кость, костная, 骨, 뼈,
	bmi, imc, ibm, mass index, massenindex, protein, mineral, visceral, skeletal, lean, ffm, ffmi, bmr, basal, metabolic,
	free, without, fettfrei, maigre, magra, magro, vetvrij,
	target, optimal, ideal, goal, ziel, soll, wunsch, cible, objectif, objetivo, obiettivo, doel, mal, tavoite, cel, cil, hedef, цель, 目標, 目标, 목표,
	control, difference, change, delta, diff, loss, gain, lost, gained, trend, average, avg, mean, moving, min, max, lowest, highest, previous, last,
	differenz, veranderung, anderung, ecart, diferencia, cambio, variazione, verschil, gains, over weight, overweight, ubergewicht, untergewicht,
	percent, percentage, %, ratio, rate, score, index, type, category, status, level, birth, start, starting, initial, standard, healthy, normal`)

// notWhen are the words that keep a column from being the time.
var notWhen = words(`zone, timezone, tz, zeitzone, fuseau, huso, fuso, offset, birth, birthday, dob, born, geboren, geburtsdatum, geburtstag, naissance, nacimiento, nascita,
	duration, dauer, duree, elapsed, end, target, goal, data type, data source, source, version`)

// recordKeeping are the times of the record, not of the weighing. They serve if there is no other.
var recordKeeping = words(`created, updated, modified, edited, uploaded, upload, sync, synced, imported, import, exported, export, erstellt, geandert, cree, modifie, creado, modificado`)

// otherTables are columns of tables that are no scale's: lifts in a gym, our own sheets.
var otherTables = words("reps, repetitions, sets, exercise, session, session id, session key, wiederholungen")

// columnWord is how a header cell was recognised.
type columnWord struct {
	meaning meaning
	word    string // the synonym that decided
	rank    int    // 3 the whole header, 2 a part of it, 1 a time of record keeping
	unit    massUnit
}

func words(list string) []string {
	var out []string
	for _, w := range strings.Split(list, ",") {
		out = append(out, table.Fold(strings.TrimSpace(w)))
	}
	return out
}

// recognise says what a header cell means.
func recognise(cell string) columnWord {
	full := table.Words(cell)
	bare, u := cutUnit(full)
	best := columnWord{}
	held := phrases(full)
	for _, m := range []meaning{when, mass, unit, person} {
		word, rank := vocabularies[m].find(full, held)
		if vocabularies[m].words[bare] && rank < 3 {
			word, rank = bare, 3
		}
		if rank > best.rank || rank == best.rank && len(word) > len(best.word) {
			best = columnWord{m, word, rank, u}
		}
	}
	if u := parseUnit(full); best.rank == 0 && u.known() {
		best = columnWord{mass, full, 2, u} // a header that is only a unit
	}
	return best.allowed(full)
}

// allowed is w, or nothing if a word of the header speaks against it.
func (w columnWord) allowed(header string) columnWord {
	switch {
	case w.meaning == mass && neverWords.in(header),
		w.meaning == when && (notWhenWords.in(header) || w.unit.known()),
		w.meaning == person && w.rank < 3,
		w.meaning == unit && w.rank < 3:
		return columnWord{}
	case w.meaning == when && recordKeepingWords.in(header):
		w.rank = 1
	}
	return w
}

// vocabulary is a list of words for finding them in headers.
type vocabulary struct {
	words map[string]bool
	// joined are words of scripts written without spaces, found anywhere.
	joined []string
}

func newVocabulary(list []string) vocabulary {
	v := vocabulary{words: map[string]bool{}}
	for _, w := range list {
		v.words[w] = true
		if w[0] >= 0xe0 { // three bytes and more in UTF-8: no Latin, Greek or Cyrillic
			v.joined = append(v.joined, w)
		}
	}
	return v
}

// find is the word that a header is (rank 3) or the longest that it holds (rank 2).
func (v vocabulary) find(header string, held []string) (word string, rank int) {
	if v.words[header] {
		return header, 3
	}
	for _, w := range append(v.inside(header), held...) {
		if v.words[w] && len(w) > len(word) {
			word, rank = w, 2
		}
	}
	return word, rank
}

// inside are the words without spaces that a header holds.
func (v vocabulary) inside(header string) []string {
	var out []string
	if strings.IndexFunc(header, func(r rune) bool { return r >= 0x1100 }) < 0 {
		return nil
	}
	for _, w := range v.joined {
		if strings.Contains(header, w) {
			out = append(out, w)
		}
	}
	return out
}

// phrases are the runs of words in a header.
func phrases(header string) []string {
	words := strings.Split(header, " ")
	if len(words) > 8 {
		return nil
	}
	var out []string
	for i := range words {
		for k := i + 1; k <= len(words); k++ {
			out = append(out, strings.Join(words[i:k], " "))
		}
	}
	return out
}

// The vocabularies, made once of the lists above.
var (
	vocabularies = func() map[meaning]vocabulary {
		out := map[meaning]vocabulary{}
		for m, list := range synonyms {
			out[m] = newVocabulary(words(list))
		}
		return out
	}()
	neverWords         = newVocabulary(never)
	notWhenWords       = newVocabulary(notWhen)
	recordKeepingWords = newVocabulary(recordKeeping)
)

// in reports whether a header holds one of the words. Long words count inside
// a compound too ("fettmasse", "zielgewicht").
func (v vocabulary) in(header string) bool {
	for _, w := range phrases(header) {
		if v.words[w] {
			return true
		}
	}
	for w := range v.words {
		if len(w) >= 4 && strings.Contains(header, w) {
			return true
		}
	}
	return len(v.inside(header)) > 0
}
