package store

import "context"

// erasing is what goes with an athlete, in an order that leaves no row without
// the one it refers to. Readings of a scale that others use stay with it unless
// they name the athlete.
func erasing() []string {
	return []string{
		eraseText, eraseNotes, eraseAnswers, eraseCorrections, eraseDigests, eraseKeys, eraseSessions, eraseActivities,
		eraseWeighInChanges, eraseWeighIns, eraseBackgrounds, eraseScales, eraseScaleUsers,
		eraseScreens, eraseConsents, eraseSodiumTests, eraseSources, eraseTrips, eraseAthletes,
	}
}

const (
	// The text of a change can hold a name or a path.
	eraseText = `UPDATE change SET text = '' WHERE text <> '' AND command <> 'undo' AND (
		id IN (SELECT change_id FROM activity WHERE athlete = ?1)
		OR id IN (SELECT change_id FROM athlete WHERE key = ?1)
		OR id IN (SELECT change_id FROM source WHERE athlete = ?1)
		OR id IN (SELECT change_id FROM screen WHERE athlete = ?1)
		OR id IN (SELECT change_id FROM consent WHERE athlete = ?1)
		OR id IN (SELECT change_id FROM sodium_test WHERE athlete = ?1)
		OR id IN (SELECT change_id FROM correction WHERE athlete = ?1 OR EXISTS (
			SELECT 1 FROM json_each(activities_json) WHERE value IN (SELECT activity_id FROM activity WHERE athlete = ?1)))
		OR id IN (SELECT change_id FROM note WHERE session IN (
			SELECT key FROM session_key WHERE activity_id IN (SELECT activity_id FROM activity WHERE athlete = ?1)))
		OR id IN (SELECT change_id FROM answer WHERE session IN (
			SELECT key FROM session_key WHERE activity_id IN (SELECT activity_id FROM activity WHERE athlete = ?1)))
		OR id IN (SELECT change_id FROM weigh_in_change WHERE weigh_in_id IN (SELECT id FROM weigh_in WHERE athlete = ?1))
		OR id IN (SELECT change_id FROM scale WHERE athletes_json IS NOT NULL
			AND ?1 IN (SELECT value FROM json_each(athletes_json))))`
	eraseNotes = `DELETE FROM note WHERE session IN (SELECT key FROM session_key
		WHERE activity_id IN (SELECT activity_id FROM activity WHERE athlete = ?1))`
	eraseAnswers = `DELETE FROM answer WHERE session IN (SELECT key FROM session_key
		WHERE activity_id IN (SELECT activity_id FROM activity WHERE athlete = ?1))`
	eraseCorrections = `DELETE FROM correction WHERE athlete = ?1 OR EXISTS (
		SELECT 1 FROM json_each(activities_json) WHERE value IN (SELECT activity_id FROM activity WHERE athlete = ?1))`
	eraseDigests        = `DELETE FROM digest WHERE activity_id IN (SELECT activity_id FROM activity WHERE athlete = ?1)`
	eraseKeys           = `DELETE FROM session_key WHERE activity_id IN (SELECT activity_id FROM activity WHERE athlete = ?1)`
	eraseSessions       = `DELETE FROM session WHERE athlete = ?1`
	eraseActivities     = `DELETE FROM activity WHERE athlete = ?1`
	eraseWeighInChanges = `DELETE FROM weigh_in_change WHERE weigh_in_id IN (
		SELECT id FROM weigh_in WHERE athlete = ?1 OR scale IN (SELECT key FROM scale WHERE athletes_json = json_array(?1)))`
	eraseWeighIns = `DELETE FROM weigh_in WHERE athlete = ?1
		OR scale IN (SELECT key FROM scale WHERE athletes_json = json_array(?1))`
	eraseBackgrounds = `DELETE FROM background WHERE scale IN (SELECT key FROM scale WHERE athletes_json = json_array(?1))`
	eraseScales      = `DELETE FROM scale WHERE key IN (SELECT key FROM scale WHERE athletes_json = json_array(?1))`
	eraseScaleUsers  = `UPDATE scale SET athletes_json = (
		SELECT json_group_array(value) FROM json_each(athletes_json) WHERE value <> ?1)
		WHERE athletes_json IS NOT NULL AND ?1 IN (SELECT value FROM json_each(athletes_json))`
	eraseScreens     = `DELETE FROM screen WHERE athlete = ?1`
	eraseConsents    = `DELETE FROM consent WHERE athlete = ?1`
	eraseSodiumTests = `DELETE FROM sodium_test WHERE athlete = ?1`
	eraseSources     = `DELETE FROM source WHERE athlete = ?1`
	eraseTrips       = `DELETE FROM trip WHERE athlete = ?1`
	eraseAthletes    = `DELETE FROM athlete WHERE key = ?1`

	vacuum     = `VACUUM`
	checkpoint = `PRAGMA wal_checkpoint(TRUNCATE)`
)

// Erase removes an athlete and all that is known about him or her from the
// file, with no way back: an undo does not bring it again. Backups made before
// keep it. Other processes have to have closed the store for the last traces
// to leave its log; the error wraps ErrBusy if they have not.
func (s *Store) Erase(ctx context.Context, athlete string) error {
	err := s.derive(ctx, func(t *Tx) error {
		for _, statement := range erasing() {
			if _, err := t.run(statement, athlete); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		return err
	}
	if _, err := s.db.ExecContext(ctx, vacuum); err != nil {
		return reason(err)
	}
	return s.truncateLog(ctx)
}

// truncateLog empties the log, where pages stay as they were until then.
func (s *Store) truncateLog(ctx context.Context) error {
	var busy bool
	var frames, moved int
	if err := s.db.QueryRowContext(ctx, checkpoint).Scan(&busy, &frames, &moved); err != nil {
		return reason(err)
	}
	if busy {
		return ErrBusy
	}
	return nil
}
