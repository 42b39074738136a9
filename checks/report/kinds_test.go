package report

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"hemline/lang"
	"hemline/lang/langtest"
)

func TestEachKindIsInTheReport(t *testing.T) {
	langtest.EachKindShows(t, func(a *lang.Analysis) string {
		var out strings.Builder
		assert.NoError(t, New(a, "").Text(&out))
		return out.String()
	}, map[string]string{
		"hem": "no figure", "note": "for people", "use": "another shop is in use here",
		"tolerance": "the notes have them", "criteria": "the notes have them", "delivery": "the notes have it", "marking": "the notes have it", 
	})
}
