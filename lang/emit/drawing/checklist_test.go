package drawing

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/lang/emit/article"
	"hemline/lang/emit/scene"
	"hemline/lang/emit/sheet"
)

// Each line has its number, what, where, limit and whose, and room to write: two
// lines of it, and one for each reading. No text is under 2.5 mm but captions.
func TestTheChecklist(t *testing.T) {
	for _, name := range examples {
		b := example(t, name)
		list := article.Make(b, article.Options{MaskMargin: 75e3, MaskMarginBy: "common practice"})
		require.NotEmpty(t, list)
		sheets := Checklist(b, scene.Build(b, 0), list, Options{Date: time.Date(2026, 3, 4, 0, 0, 0, 0, time.UTC), Findings: make([]Finding, 2), Accepted: 3})
		liesFree(t, name, sheets)
		said := strings.Join(strings.Fields(words(sheets)), " ")
		for _, want := range []string{"First-article checklist", "Measured by", "Accepted by", "Date of issue 2026-03-04", "Check 2 findings stand, 3 accepted", fmt.Sprintf("%d lines. A limit is the text's", len(list))} {
			assert.Contains(t, said, want, name)
		}
		rows := 0
		for _, s := range sheets {
			assert.Equal(t, "A4", s.Format.Name[:2], "to be written on at a bench")
			for _, x := range s.Texts {
				assert.GreaterOrEqual(t, x.Height, 1.8, "%s: %s", name, x.S)
			}
			rows += strings.Count(words([]*sheet.Sheet{s}), "the text")
		}
		assert.GreaterOrEqual(t, rows, len(list)/2, name)
		for i, l := range list {
			assert.Contains(t, said, fmt.Sprint(i+1), name)
			for _, word := range strings.Fields(l.Limit) {
				assert.Contains(t, said, word, "%s: %s", name, l.What)
			}
		}
	}
}

// A long list flows over pages, whatever its words; an empty one says so.
func TestALongChecklist(t *testing.T) {
	b := read(t, "board \"a name\" { title \""+strings.Repeat("A long title ", 20)+"\"; revision \"9\" }\noutline rectangle 60 mm by 40 mm")
	var list []article.Line
	for i := range 200 {
		list = append(list, article.Line{What: strings.Repeat("what is it ", 6), Where: strings.Repeat("x", 60), Limit: fmt.Sprintf("limit_%d", i), By: "a shop of a long name", Readings: []string{"top", "bottom"}})
	}
	sheets := Checklist(b, scene.Build(b, 0), list, Options{})
	liesFree(t, "long", sheets)
	assert.Greater(t, len(sheets), 10)
	said := words(sheets)
	for i := range 200 {
		assert.Contains(t, said, fmt.Sprintf("limit_%d", i))
	}
	sheets = Checklist(b, scene.Build(b, 0), nil, Options{})
	require.Len(t, sheets, 1)
	assert.Contains(t, words(sheets), "The text states nothing to measure.")
}
