package rules

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/lang/source"
	"hemline/lang/syntax"
)

// singly states each member of each row by itself: t.1 as t_1.
func singly(path, text string) (string, int) {
	doc, rows := syntax.Parse(source.New(path, text), nil), 0
	for _, s := range slices.Backward(doc.Statements()) {
		r := syntax.Read(s)
		if r == nil || r.Get("at") == nil || len(r.Get("at").Values) < 2 {
			continue
		}
		span, ok := doc.Locate(s.Whole())
		if !ok {
			continue
		}
		var members []string
		for i := range r.Get("at").Values {
			one := s.Text()
			replace := func(at source.Place, by string) { one = one[:at.Start] + by + one[at.End:] }
			type edit struct {
				at source.Place
				by string
			}
			name, given, _ := s.NamePlace()
			edits := []edit{{name, fmt.Sprintf("%s_%d", given, i+1)}, {r.Get("at").Place(), "at " + r.Get("at").Values[i].Source()}}
			if net := r.Get("net"); net != nil && len(net.Values) > 1 {
				edits = append(edits, edit{net.Place(), "net " + net.Values[i].Source()})
			}
			slices.SortFunc(edits, func(a, b edit) int { return int(b.at.Start - a.at.Start) })
			for _, e := range edits {
				replace(e.at, e.by)
			}
			members = append(members, one)
		}
		text = text[:span.Start] + strings.Join(members, "\n") + text[span.End:]
		rows++
	}
	return text, rows
}

var (
	member = regexp.MustCompile(`\b([a-z]+)_([0-9])\b`)
	placed = regexp.MustCompile(`made\.hem:[0-9]+`)
)

// What is found of a row is what would be found of its members if each had a
// statement of its own: by every rule, on boards that are clean and that are not.
func TestRowsAreJudgedAsTheirMembersAre(t *testing.T) {
	files, err := filepath.Glob("../../examples/*.hem")
	require.NoError(t, err)
	broken, err := filepath.Glob("../../examples/broken/*.hem")
	require.NoError(t, err)
	texts := map[string]string{}
	for _, f := range append(files, broken...) {
		data, err := os.ReadFile(f)
		require.NoError(t, err)
		texts[f] = strings.NewReplacer("\"../", "\"examples/", "\"shops/", "\"examples/shops/", "\"parts/", "\"examples/parts/").Replace(string(data))
	}
	const few = "board b { thickness 1.6 mm }\noutline rectangle 100 mm by 40 mm\nplating wall { along north; net GND }\n"
	texts["two tabs on one side"] = few + "tab t on south at 40 mm, 60 mm width 3 mm solid\n"
	texts["tabs that are too weak"] = few + "tab t on south at 10 mm, 90 mm width 0.9 mm perforated hole 0.4 mm pitch 0.42 mm\ntab u on north at 30 mm width 3 mm solid\n"
	texts["one of the places is off the edge"] = few + "tab t on south at 40 mm, 160 mm width 3 mm solid\n"
	rows := 0
	for name, text := range texts {
		alone, n := singly("made.hem", text)
		rows += n
		say := func(text string) (list []string) {
			for _, f := range underAll(readText("made.hem", text)) {
				list = append(list, f.Rule+": "+placed.ReplaceAllString(member.ReplaceAllString(f.Message, "$1.$2"), "made.hem"))
			}
			slices.Sort(list)
			return list
		}
		assert.Equal(t, say(alone), say(text), name)
	}
	assert.Greater(t, rows, 12)
}
