package lang_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"hemline/lang"
	"hemline/lang/langtest"
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
	texts := langtest.Sections(t, "testdata/*.hem")
	texts = append(texts, langtest.Sections(t, "../checks/testdata/*.hem")...)
	texts = append(texts, langtest.Sections(t, "../checks/rules/testdata/*.hem")...)
	texts = append(texts, langtest.Examples(t, "..")...)
	for _, s := range texts {
		t.Run(s.Name(), func(t *testing.T) {
			formatted := s.Each(func(path, text string) string {
				return syntax.Format(syntax.Parse(source.New(path, text), nil))
			})
			assert.Equal(t, says(s.Analyze()), says(formatted.Analyze()))
		})
	}
}

// A statement that becomes longer changes no line of its neighbours.
func TestALongerStatementChangesNoOther(t *testing.T) {
	t.Parallel()
	format := func(text string) string {
		return syntax.Format(syntax.Parse(source.New("a.hem", text), nil))
	}
	tried := 0
	for _, s := range langtest.Examples(t, "..") {
		text := format(s.Texts[langtest.RootPath])
		doc := syntax.Parse(source.New("a.hem", text), nil)
		for _, st := range doc.Statements() {
			span, ok := doc.Locate(st.Whole())
			longer := strings.Replace(st.Text(), " mm", ".000000001 mm", 1)
			if !ok || st.Word() == "let" || longer == st.Text() || strings.Contains(longer, "..") {
				continue
			}
			now := format(text[:span.Start] + longer + text[span.End:])
			before, after := text[:span.Start], text[span.End:]
			after = after[strings.IndexByte(after, '\n'):] // its own comment may be moved
			assert.True(t, strings.HasPrefix(now, before) && strings.HasSuffix(now, after), "%s: %s", s.Title, st.Text())
			tried++
		}
	}
	assert.Greater(t, tried, 50)
}
