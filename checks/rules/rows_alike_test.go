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

	"hemline/checks"
	"hemline/lang/emit/bundle"
	"hemline/lang/emit/layers"
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

// spelled is a clause as it would be stated.
func spelled(c *syntax.Clause) string {
	s := c.Spec.Word
	for i, v := range c.Values {
		if a := c.Spec.Args[min(i, len(c.Spec.Args)-1)]; i > 0 && a.Many && a.Kind != syntax.VName && a.Kind != syntax.VEdge && a.Kind != syntax.VFace && a.Kind != syntax.VRef && a.Kind != syntax.VLayer {
			s += ","
		}
		s += " " + v.Source()
	}
	for _, k := range c.Clauses {
		s += " " + spelled(k)
	}
	return s
}

// statedAlone states in each item what it takes over by like.
func statedAlone(path, text string, parts ...string) (string, int) {
	doc, taken := syntax.Parse(source.New(path, text), nil), 0
	models := map[string]*syntax.Reading{}
	note := func(d *syntax.Document) {
		for _, s := range d.Statements() {
			if _, name, ok := s.NamePlace(); ok {
				models[name] = syntax.Read(s)
			}
		}
	}
	for _, p := range parts {
		note(syntax.Parse(source.New("parts.hem", p), nil))
	}
	note(doc)
	var composed func(r *syntax.Reading) *syntax.Reading
	composed = func(r *syntax.Reading) *syntax.Reading {
		if _, name := r.Like(); name != "" {
			return r.Inherit(composed(models[name]).Body())
		}
		return r
	}
	for _, s := range slices.Backward(doc.Statements()) {
		r := syntax.Read(s)
		span, ok := doc.Locate(s.Whole())
		if _, given, named := s.NamePlace(); ok && named && r.Spec.Word != "typical" {
			if _, name := r.Like(); name == "" || models[name] == nil { // like what there is not
				continue
			}
			var clauses []string
			for _, c := range composed(r).Clauses {
				if c.Spec.Word != "like" && c.Spec.Word != "no" {
					clauses = append(clauses, spelled(c))
				}
			}
			text = text[:span.Start] + r.Spec.Word + " " + syntax.Quote(given) + " { " + strings.Join(clauses, "; ") + " }" + text[span.End:]
			taken++
		}
	}
	return text, taken
}

// What is found of an item that takes over is what would be found of it if it
// stated all by itself.
func TestWhatIsTakenOverIsJudgedAsStated(t *testing.T) {
	launches, err := os.ReadFile("../../examples/parts/launches.hem")
	require.NoError(t, err)
	n := 0
	for name, text := range rowTexts(t) {
		alone, taken := statedAlone("made.hem", text, string(launches))
		n += taken
		assert.Equal(t, allFound(alone), allFound(text), name)
	}
	assert.Greater(t, n, 30)
}

// allFound is what is found, but for typicals that nothing is like.
func allFound(text string) (list []string) {
	for _, f := range underAll(readText("made.hem", text)) {
		if f.Rule != "name_unused" {
			list = append(list, f.Rule+": "+placed.ReplaceAllString(member.ReplaceAllString(f.Message, "$1.$2"), "made.hem"))
		}
	}
	slices.Sort(list)
	return list
}

// rowTexts are the examples, and a few boards on which rows and what is taken
// over are found at fault.
func rowTexts(t *testing.T) map[string]string {
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
	texts["taken over and changed"] = few + "typical scar tab { width 5 mm; perforated hole 0.5 mm pitch 0.6 mm inset 0.9 mm; length 0.5 mm }\ntab a like scar on south at 4 mm\ntab c like a on south at 60 mm solid no length\ntab d like c on east at 20 mm perforated hole 0.3 mm pitch 0.4 mm\n" +
		"typical thin plating { net V5; wrap top bottom 0.2 mm; copper 10 um }\nplating more like thin { along west; wrap top 0.9 mm }\n"
	texts["cutouts, parts, and vias that give way to a row"] = few + "cutout s slot 6 mm by 0.4 mm at (20 mm, 20 mm), (20 mm, 20.8 mm), (99 mm, 20 mm)\npart p mass 50 g at (5 mm, 5 mm), (150 mm, 5 mm)\n" +
		"tab t on south at 30 mm, 40 mm, 50 mm width 3 mm solid\nfeature f on top circle 1 mm at (30 mm, 38 mm), (31 mm, 38 mm) net A\n" +
		"fence q along north inset 2 mm pitch 2 mm hole 0.3 mm land 0.6 mm clearance 0.3 mm net GND\nconnector k on north at 60 mm, 80 mm { body 4 mm; pin top width 1 mm length 2 mm; legs top width 1 mm length 2 mm spacing 3 mm; mass 9 g; net R_A R_B; opens span 5 mm }\n"
	return texts
}

// What is found of a row is what would be found of its members if each had a
// statement of its own: by every rule, on boards that are clean and that are not.
func TestRowsAreJudgedAsTheirMembersAre(t *testing.T) {
	rows := 0
	for name, text := range rowTexts(t) {
		alone, n := singly("made.hem", text)
		rows += n
		assert.Equal(t, allFound(alone), allFound(text), name)
	}
	assert.Greater(t, rows, 12)
}

// flatTexts are examples as they were stated item by item, with a statement for
// each gap, tab and connector.
const flatTexts = "testdata/flat/*.hem"

var tabName = regexp.MustCompile(`(?m)^(?:; on .*| +on .*) tab [^ ]+$`)

// What is said once is no other board: an example and its flat text are both
// clean, and what a shop's machines take is the same to the byte. It is shorter:
// the receiver takes at most two thirds of the lines.
func TestWhatIsSaidOnceIsTheSameBoard(t *testing.T) {
	flat, err := filepath.Glob(flatTexts)
	require.NoError(t, err)
	require.NotEmpty(t, flat)
	for _, f := range flat {
		var sets [2][]bundle.File
		var lines [2]int
		for i, path := range []string{f, "../../examples/" + filepath.Base(f)} {
			data, err := os.ReadFile(path)
			require.NoError(t, err)
			a := readText("examples/"+filepath.Base(f), string(data))
			assert.Empty(t, underAll(a), path)
			for line := range strings.Lines(string(data)) {
				if strings.TrimSpace(line) != "" {
					lines[i]++
				}
			}
			sets[i], err = layers.Build(a.Board(), checks.LimitsFor(a).ForLayers())
			require.NoError(t, err, path)
			require.NotEmpty(t, sets[i], path)
			for k := range sets[i] { // a tab of a row has another name
				sets[i][k].Data = tabName.ReplaceAll(sets[i][k].Data, nil)
			}
		}
		assert.Equal(t, sets[0], sets[1], f)
		assert.Less(t, lines[1], lines[0], f)
		if filepath.Base(f) == "receiver.hem" {
			assert.LessOrEqual(t, 3*lines[1], 2*lines[0], "what was asked for")
		}
	}
}
