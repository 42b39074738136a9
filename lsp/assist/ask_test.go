package assist

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"hemline/checks"
	"hemline/lang/source"
)

// What a query lacks is offered where it would stand, on the keyword of a statement.
func TestWhatAQueryLacksIsPutIn(t *testing.T) {
	for _, c := range []struct{ text, title, want string }{
		{"‸board b { thickness 1 mm }", "answer class: write class in board b, the value to be typed", "board b { thickness 1 mm; class }"},
		{"‸board b { }", "answer material: write material in board b, the text to be typed", "board b { material \"\" }"},
		{"‸board b {\n  thickness 1 mm\n}", "answer revision: write revision in board b, the text to be typed", "board b {\n  thickness 1 mm\n  revision \"\"\n}"},
		{"‸board b", "answer class: write class in board b, the value to be typed", "board b class"},
		{"‸board b { class 3 }", "answer outline_tolerance: write outline in tolerance, the value to be typed", "board b { class 3 }\ntolerance { outline }"},
		{"board b { class 3 }\n‸tolerance { gaps 1 mm }", "answer outline_tolerance: write outline in tolerance, the value to be typed", "board b { class 3 }\ntolerance { gaps 1 mm; outline }"},
		{"‸board b { class 3 }", "answer delivery: write delivery, the rest to be typed", "board b { class 3 }\ndelivery"},
		{"outline circle 50 mm\n‸tab t on rim at 9 mm width 3 mm solid", "answer tab_length: write length in tab t, the value to be typed", "outline circle 50 mm\ntab t on rim at 9 mm width 3 mm solid length"},
		{"outline circle 50 mm\n‸tab t on rim at 9 mm width 3 mm solid removal rout // x", "answer tab_removal: write by in removal of tab t, the value to be typed", "outline circle 50 mm\ntab t on rim at 9 mm width 3 mm solid removal rout by // x"},
		{"outline circle 50 mm\n‸tab t on rim at 9 mm removal rout width 3 mm solid", "answer tab_removal: write by in removal of tab t, the value to be typed", "outline circle 50 mm\ntab t on rim at 9 mm removal rout by width 3 mm solid"},
	} {
		a, at := analyze(t, c.text)
		found := false
		for _, x := range Actions(a, source.Span{Start: at, End: at}, nil) {
			if x.Title == c.title {
				found = true
				text := a.Root().Text()
				assert.Equal(t, c.want, text[:x.Edits[0].Span.Start]+x.Edits[0].Text+text[x.Edits[0].Span.End:], c.text)
			}
		}
		assert.True(t, found, "%s: %s", c.text, c.title)
	}
}

// It is not in the way elsewhere, nor where an answer stands or it is left to the shop.
func TestWhatIsAnsweredIsNotPutIn(t *testing.T) {
	for _, text := range []string{"board b { thi‸ckness 1 mm }", "outline circle 50 mm ‸", "‸board b { class 3 }", "‸board b { }\nleave class to shop because \"so\"", "board b { }\n‸tolerance { gaps 1 mm }"} {
		a, at := analyze(t, text)
		for _, x := range Actions(a, source.Span{Start: at, End: at}, nil) {
			assert.False(t, strings.HasPrefix(x.Title, "answer class"), "%s: %s", text, x.Title)
		}
	}
}

// A query's name tells what is asked and how the board stands to it.
func TestQueriesNames(t *testing.T) {
	a, at := analyze(t, "board b { class 3 }\nleave cla‸ss to shop because \"so\"")
	h, ok := Hover(a, at, new(Shown), checks.Options{})
	assert.True(t, ok)
	assert.Contains(t, h.Markdown, "To which class is it built and accepted?")
	assert.Contains(t, h.Markdown, "here: answered\n\n- class 3 of IPC-6012")
}
