package store

import (
	"context"

	"saltpan/pipeline/record"
)

const (
	insertAnswer = `INSERT INTO answer (change_id, question, at_utc_ms, choice, session, slot, weigh_in)
		VALUES (?, ?, ?, ?, ?, ?, ?)`
	selectAnswer = `SELECT question, at_utc_ms, choice, session, slot, weigh_in
		FROM answer WHERE change_id IN active_change
		ORDER BY at_utc_ms, id`
)

// PutAnswer adds a person's answer to a question.
func (t *Tx) PutAnswer(a record.Answer) error {
	_, err := t.fact(insertAnswer, a.Question, ms(a.At), a.Choice, a.Session, a.Slot, a.WeighIn)
	return err
}

func answers(ctx context.Context, q querier) ([]record.Answer, error) {
	return collect(ctx, q, func(scan scanner) (a record.Answer, err error) {
		var at int64
		err = scan(&a.Question, &at, &a.Choice, &a.Session, &a.Slot, &a.WeighIn)
		a.At = moment(at)
		return a, err
	}, selectAnswer)
}
