package lang_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"hemline/lang"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

// says writes what a text means and what is wrong with it, places left out:
// formatting moves them.
func says(a *lang.Analysis) string {
	var out strings.Builder
	for _, f := range a.Findings() {
		fmt.Fprintf(&out, "%s: %s\n", f.Rule, f.Message)
	}
	out.WriteString(dump(a.Board(), func(p source.Place) string {
		if p.Anchor == nil {
			return "nowhere"
		}
		return "somewhere"
	}))
	return out.String()
}

func TestFormattingKeepsTheMeaning(t *testing.T) {
	t.Parallel()
	texts := sections(t, "testdata/*.hem")
	texts = append(texts, sections(t, "../checks/rules/testdata/*.hem")...)
	texts = append(texts, examples(t)...)
	for _, s := range texts {
		t.Run(s.file+"/"+s.title, func(t *testing.T) {
			formatted := section{s.file, s.title, map[string]string{}}
			for path, text := range s.texts {
				formatted.texts[path] = syntax.Format(syntax.Parse(source.New(path, text), nil))
			}
			assert.Equal(t, says(s.analyze()), says(formatted.analyze()))
		})
	}
}
