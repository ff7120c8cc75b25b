package store

import (
	"context"
	"errors"

	"saltpan/pipeline/record"
)

const (
	insertConsent = `INSERT INTO consent (change_id, athlete, at_utc_ms, document, document_sha256, scopes_json, withdrawn, how)
		VALUES (?, ?, ?, ?, ?, ?, ?, ?)`
	selectConsent = `SELECT athlete, at_utc_ms, document, document_sha256, scopes_json, withdrawn, how
		FROM consent WHERE change_id IN active_change
		ORDER BY at_utc_ms, id`
)

// PutConsent adds what a person agreed to or took back.
func (t *Tx) PutConsent(c record.Consent) error {
	scopes, err := list(c.Scopes)
	if err != nil {
		return err
	}
	_, err = t.fact(insertConsent, c.Athlete, ms(c.At), c.Document, c.DocumentSHA256, scopes, c.Withdrawn, c.How)
	return err
}

func consents(ctx context.Context, q querier) ([]record.Consent, error) {
	return collect(ctx, q, func(scan scanner) (c record.Consent, err error) {
		var at int64
		var scopes *string
		err = scan(&c.Athlete, &at, &c.Document, &c.DocumentSHA256, &scopes, &c.Withdrawn, &c.How)
		c.At = moment(at)
		return c, errors.Join(err, unlist(scopes, &c.Scopes))
	}, selectConsent)
}
