package scale

import "strings"

// months are the names of the twelve months in several languages, long and
// short, folded.
var months = func() [][]string {
	var out [][]string
	for _, line := range strings.Split(monthNames, "\n") {
		out = append(out, strings.Fields(line))
	}
	return out
}()

const monthNames = `jan feb mar apr may jun jul aug sep oct nov dec
january february march april may june july august september october november december
jan feb mrz apr mai jun jul aug sept okt nov dez
januar februar marz april mai juni juli august september oktober november dezember
janv fevr mars avr mai juin juil aout sept oct nov dec
janvier fevrier mars avril mai juin juillet aout septembre octobre novembre decembre
ene feb mar abr may jun jul ago sep oct nov dic
enero febrero marzo abril mayo junio julio agosto septiembre octubre noviembre diciembre
gen feb mar apr mag giu lug ago set ott nov dic
gennaio febbraio marzo aprile maggio giugno luglio agosto settembre ottobre novembre dicembre
jan fev mar abr mai jun jul ago set out nov dez
janeiro fevereiro marco abril maio junho julho agosto setembro outubro novembro dezembro
jan feb mrt apr mei jun jul aug sep okt nov dec
januari februari maart april mei juni juli augustus september oktober november december
januari februari mars april maj juni juli augusti september oktober november december
januar februar mars april maj juni juli august september oktober november desember
tammi helmi maalis huhti touko kesa heina elo syys loka marras joulu
tammikuuta helmikuuta maaliskuuta huhtikuuta toukokuuta kesakuuta heinakuuta elokuuta syyskuuta lokakuuta marraskuuta joulukuuta
sty lut mar kwi maj cze lip sie wrz paz lis gru
stycznia lutego marca kwietnia maja czerwca lipca sierpnia wrzesnia pazdziernika listopada grudnia
led uno bre dub kve cvn cvc srp zar rij lis pro
ledna unora brezna dubna kvetna cervna cervence srpna zari rijna listopadu prosince
oca sub mar nis may haz tem agu eyl eki kas ara
ocak subat mart nisan mayis haziran temmuz agustos eylul ekim kasim aralik
янв фев мар апр мая июн июл авг сен окт ноя дек
января февраля марта апреля мая июня июля августа сентября октября ноября декабря`

// month is the number of a month's name, 0 if it is none.
func month(name string) int {
	for _, list := range months {
		for i, n := range list {
			if n == name {
				return i + 1
			}
		}
	}
	return 0
}
