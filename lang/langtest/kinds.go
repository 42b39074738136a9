package langtest

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/lang"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

// Whole is a text that states every kind of statement, by keyword in the order
// of the vocabulary: its own examples, but where they do not go together.
func Whole() (words []string, texts map[string]string) {
	texts = map[string]string{
		"use":       "use \"shop.hem\"\n",
		"let":       "let long = 62 mm\nlet wide = long / 2\n",
		"board":     "board receiver { title \"Receiver\"; revision \"A\"; frequency 10 GHz; class 3; finish ENIG }\n",
		"stack":     "stack {\n  copper top 35 um\n  dielectric upper 0.7 mm permittivity 4.3\n  copper ground 35 um\n  dielectric lower 0.7 mm\n  copper bottom 35 um\n}\n",
		"outline":   "outline rectangle long by 38 mm corner 1.5 mm\n",
		"relief":    "relief lid over wall on top bottom reach 0.9 mm\n",
		"gap":       "gap launch of wall on south at middle width 5 mm for antenna\n",
		"plating":   "plating wall {\n  along south east\n  net GND\n  copper 25 um\n  wrap top 0.8 mm\n  wrap bottom 0.8 mm\n}\n",
		"connector": "connector antenna on south at middle {\n  body 9.5 mm\n  pin top width 1.3 mm length 4 mm\n  legs top width 1 mm length 3 mm spacing 7 mm\n  net RF\n}\n",
		"tab":       "tab hold on north at 20 mm width 4 mm perforated hole 0.5 mm pitch 0.8 mm\ntab held on east at 20 mm width 3 mm solid premetallised\n",
		"fence":     "fence stitch along south inset 1.5 mm pitch 2 mm hole 0.3 mm land 0.6 mm added net GND\n",
		"note":      "note \"keep the land of the lid flat\"\n",
		"leave":     "leave tab_length along west east to shop because \"its usual frame\"\n",
		"accept":    "accept plated_share on wall because \"agreed\"\n",
	}
	for _, s := range syntax.Vocabulary() {
		words = append(words, s.Word)
		if texts[s.Word] == "" {
			texts[s.Word] = s.Example + "\n"
		}
	}
	return words, texts
}

// WholeBut reads a text of Whole without the statements of one keyword, "" for
// all of it.
func WholeBut(without string, words []string, texts map[string]string, prev *lang.Analysis) *lang.Analysis {
	var b strings.Builder
	for _, w := range words {
		if w != without {
			b.WriteString(texts[w])
		}
	}
	return lang.Analyze(source.New(RootPath, b.String()), func(path string) (*source.File, error) {
		if path != "shop.hem" {
			return nil, os.ErrNotExist
		}
		return source.New(path, "fabricator other { limit wrap_land minimum 0.4 mm }\n"), nil
	}, prev)
}

// EachKindShows tells whether an output shows every kind of statement: it says
// something else where those of a kind are taken out of a text that has them
// all, or the kind is among the unshown, with the reason. So a kind that is new
// is forgotten nowhere.
func EachKindShows(t *testing.T, output func(*lang.Analysis) string, unshown map[string]string) {
	t.Helper()
	words, texts := Whole()
	full := WholeBut("", words, texts, nil)
	require.Empty(t, full.Findings(), "the text is whole")
	for _, word := range words {
		shown := output(full) != output(WholeBut(word, words, texts, nil))
		assert.NotEqual(t, shown, unshown[word] != "", "%s: shown, or said why it is not", word)
		delete(unshown, word)
	}
	assert.Empty(t, unshown, "no kinds")
}
