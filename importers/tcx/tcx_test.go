package tcx

import (
	"testing"

	"saltpan/importers/importer"
	"saltpan/importers/importer/importertest"
)

func TestContract(t *testing.T) { importertest.Run(t, New(), importer.Hints{Athlete: "ines"}) }
