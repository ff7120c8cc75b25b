package scale

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"saltpan/importers/importer/table"
)

// date moves the date in a cell and leaves everything else as it was. A cell
// that is not understood is masked.
func (r *redaction) date(column int, cell string) string {
	s := parseStamp(cell, r.columns.epoch[column])
	switch text := table.Fold(cell); {
	case !s.hasDate && !s.hasClock:
		return mask(cell)
	case !s.hasDate:
		return onlyClock(text)
	case !s.abs.IsZero():
		return r.number(text, r.columns.epoch[column])
	case s.at[1] == 0: // the compact form
		return r.compact(text, s)
	default:
		return onlyClock(text[:s.at[0]]) + r.shift(text[s.at[0]:s.at[1]], s) + onlyClock(text[s.at[1]:])
	}
}

// onlyClock keeps what a time of day can be written with and masks other letters.
func onlyClock(text string) string {
	return clockParts.ReplaceAllStringFunc(text, func(part string) string {
		if utf8.RuneCountInString(part) == 1 && !strings.Contains("0123456789tzh日일時时点시分분秒초", part) {
			return mask(part)
		}
		return part
	})
}

var (
	clockParts = regexp.MustCompile(`[0-9]+|[ap]\. ?m|[ap]m|utc|gmt|午前|午後|上午|下午|오전|오후|.`)
	dateParts  = regexp.MustCompile(`[0-9]+|\pL{3,}`)
)

// moved is the date of s after the shift.
func (r *redaction) moved(s stamp) (time.Time, bool) {
	wall, ok := s.wallTime(r.order)
	return wall.AddDate(0, 0, r.days), ok
}

// shift rewrites the numbers and the month's name of a date.
func (r *redaction) shift(text string, s stamp) string {
	to, ok := r.moved(s)
	if !ok {
		return mask(text)
	}
	order := s.order
	if order == "" {
		order = r.order
	}
	value := map[byte]int{'y': to.Year(), 'm': int(to.Month()), 'd': to.Day()}
	place := 0
	return dateParts.ReplaceAllStringFunc(text, func(part string) string {
		name := part[0] < '0' || part[0] > '9'
		if name && month(part) == 0 || place > 2 {
			return mask(part)
		}
		v := value[order[place]]
		place++
		switch {
		case name:
			return monthLike(part, v)
		case len(part) == 2:
			return fmt.Sprintf("%02d", v%100)
		}
		return fmt.Sprint(v)
	})
}

// monthLike is the name of month m in the language and length of name.
func monthLike(name string, m int) string {
	for _, list := range months {
		if list[month(name)-1] == name {
			return list[m-1]
		}
	}
	return mask(name)
}

// number moves an epoch or a spreadsheet's day.
func (r *redaction) number(text string, epoch bool) string {
	whole, fraction, sign := text, "", ""
	if i := strings.IndexAny(text, ".,"); i >= 0 {
		whole, sign, fraction = text[:i], text[i:i+1], text[i+1:]
	}
	v, err := strconv.ParseInt(whole, 10, 64)
	if err != nil {
		return mask(text)
	}
	switch {
	case epoch && len(whole) > 11:
		v += int64(r.days) * 86_400_000
	case epoch:
		v += int64(r.days) * 86_400
	default:
		v += int64(r.days)
	}
	return fmt.Sprint(max(v, 0)) + sign + fraction
}

func (r *redaction) compact(text string, s stamp) string {
	to, ok := r.moved(s)
	if !ok {
		return mask(text)
	}
	return to.Format("20060102") + text[8:]
}
