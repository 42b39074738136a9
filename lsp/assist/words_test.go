package assist

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"hemline/checks"
	"hemline/lang"
	"hemline/lang/langtest"
	"hemline/lang/source"
	"hemline/lang/syntax"
)

// rest says what no text of the repository does.
const rest = `outline { start (0 mm, 0 mm); line s to (30 mm, 0 mm); arc e to (30 mm, 20 mm) around (30 mm, 10 mm) corner 1 mm; line n to (0 mm, 20 mm); close w }
cutout c { start (5 mm, 5 mm); line a to (9 mm, 5 mm); arc b to (9 mm, 9 mm) around (9 mm, 7 mm) clockwise corner 0.5 mm; close d }
hole h diameter 1 mm at (20 mm, 5 mm) plated net A land 2 mm
hole i like h at (20 mm, 9 mm) no land
tab t on s at 5 mm width 3 mm solid removal rout by customer
castellation p on s at 12 mm hole 1 mm land 2 mm by 1.4 mm burrs top
castellation q like p on s at 16 mm no burrs
castellation r on s at 20 mm hole 1 mm land 2 mm by 1.4 mm burrs none
fence f along n inset 1 mm pitch 2 mm hole 0.3 mm land 0.6 mm
fence g like f along s no land
criteria { blisters maximum 1 mm; burrs none }
`

// wordsOf are the words that a statement takes.
func wordsOf(statement string) []string { return syntax.StatementNamed(statement).Args[0].Words }

// Every word of the vocabulary has a hover, wherever in the repository's texts it stands: each
// statement's and clause's keyword, each word that a clause takes, each name and number.
func TestEveryWordHasAHover(t *testing.T) {
	seen, silent := map[string]bool{}, map[string]string{}
	over := func(path string, a *lang.Analysis) {
		kept := new(Shown)
		for _, s := range a.Document().Statements() {
			r := syntax.Read(s)
			if r == nil {
				continue
			}
			whole, _ := a.Document().Locate(s.Whole())
			look := func(key string, offset int) {
				if seen[key] {
					return
				}
				if card, ok := Hover(a, whole.Start+offset, kept, checks.Options{}); ok && strings.TrimSpace(card.Markdown) != "" {
					seen[key] = true
				} else {
					silent[key] = path + ": " + s.Text()
				}
			}
			var keywords func(path string, c *syntax.Clause)
			keywords = func(path string, c *syntax.Clause) {
				path = strings.TrimSpace(path + " " + c.Spec.Word)
				look(path, int(c.Keyword.Start))
				for _, k := range c.Clauses {
					keywords(path, k)
				}
			}
			keywords("", &r.Clause)
			r.Spots(func(spot syntax.Spot) bool {
				if spot.Arg != nil && slices.Contains(spot.Arg.Words, spot.Text) {
					look(spot.Clause().Spec.Word+" = "+spot.Text, int(spot.Place.Start))
				}
				return true
			})
		}
	}
	langtest.EveryText(t, "../..", over)
	leaves := "leave " + strings.Join(wordsOf("leave"), " ") + " to shop because \"its usual\"\n"
	over("rest.hem", lang.Analyze(source.New("rest.hem", rest+leaves), nil, nil))
	for key, where := range silent {
		assert.True(t, seen[key], "%s has no hover in %s", key, where)
	}
	var all func(path string, list []*syntax.Spec)
	all = func(path string, list []*syntax.Spec) {
		for _, s := range list {
			own := strings.TrimSpace(path + " " + s.Word)
			if strings.HasSuffix(path, " no") || strings.HasPrefix(path, "typical") {
				continue // the clauses of others
			}
			assert.True(t, seen[own], "no text shows %s", own)
			for _, arg := range s.Args {
				for _, w := range arg.Words {
					if arg.Kind == syntax.VWord {
						assert.True(t, seen[s.Word+" = "+w], "no text shows %s %s", s.Word, w)
					}
				}
			}
			if len(strings.Fields(own)) < 6 {
				all(own, s.Clauses)
			}
		}
	}
	all("", syntax.Vocabulary())
}
