package rules

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/checks"
	"hemline/lang"
	"hemline/lang/board"
	"hemline/lang/finding"
	"hemline/lang/langtest"
	"hemline/lang/source"
)

// The proof that the rules find what they are for: into boards that nothing is
// wrong with, the examples stated item by item and the made ones, mistakes are
// put one at a time, and the rule that is named for each must say so. What the mistakes are, and
// which rule finds each, is in the other mutation files, a line each.

// kind is a kind of mistake.
type kind struct {
	rule    string // that must catch it
	mistake string
	seed    seeder
	broken  bool // the mistake also costs other statements their meaning
	quick   bool // typing it is tried elsewhere
}

// seeder puts the mistake into a board; ok is false where it has no place there.
type seeder func(s *subject) (m mutant, ok bool)

// mutant is a board with one mistake in it.
type mutant struct {
	text string
	on   string // what the finding must be on; "" leaves it open
}

// kinds lists every kind of mistake.
func kinds() []kind {
	return slices.Concat(shapeMistakes, boardMistakes, wrapMistakes, copperMistakes, gapMistakes, cornerMistakes, launchMistakes, maskMistakes,
		tabMistakes, perforationMistakes, halfHoleMistakes, pastMistakes, physicsMistakes, houseMistakes, languageMistakes, agreedMistakes, routMistakes)
}

// mutantsOfKind is how many boards a kind of mistake is put into at the most.
const mutantsOfKind = 8

// subject is a clean board that a mistake is put into.
type subject struct {
	r    *rand.Rand
	path string
	text string
	a    *lang.Analysis
	b    *board.Board
	l    *checks.Limits
}

var subjects = sync.OnceValue(func() []*subject {
	var list []*subject
	add := func(path, text string) {
		s := &subject{path: path, text: text, a: readText(path, text)}
		s.b, s.l = s.a.Board(), checks.LimitsFor(s.a)
		if strings.Contains(text, " like ") || slices.ContainsFunc(s.b.Tabs(), func(t *board.Tab) bool { return t.Row.Given() }) {
			return // an edit of one item's statement would be one of several items
		}
		list = append(list, s)
	}
	for _, pattern := range []string{"../../examples/*.hem", flatTexts} {
		files, _ := filepath.Glob(pattern)
		for _, f := range files {
			data, err := os.ReadFile(f)
			if err != nil {
				panic(err)
			}
			add("examples/"+filepath.Base(f), string(data))
		}
	}
	for _, text := range cleanBoards() {
		add("made.hem", text)
	}
	return list
})

func examined(path, text string) []finding.Located {
	return underAll(readText(path, text))
}

func TestMistakesAreCaught(t *testing.T) {
	unraced(t)
	t.Parallel()
	list := subjects()
	require.GreaterOrEqual(t, len(list), 54)
	alarms := 0
	for i, s := range list {
		for _, f := range examined(s.path, s.text) {
			alarms++
			assert.Fail(t, "a false alarm", "board %d, %s: %s: %s", i, s.path, f.Rule, f.Message)
		}
	}
	score := proof{ofRule: map[string]int{}, ofPairs: map[string]int{}}
	all := kinds()
	t.Run("kinds", func(t *testing.T) {
		for n, k := range all {
			t.Run(k.rule+": "+k.mistake, func(t *testing.T) {
				t.Parallel()
				score.add(k, tryKind(t, n, k))
			})
		}
	})
	for _, x := range pairMistakes {
		score.ofPairs[x.rule]++
	}
	for _, r := range pairings() {
		score.ofPairs[r.rule]++ // TestPairsThatAreTooNearAreCaught makes them
	}
	for _, r := range All() {
		assert.Positive(t, score.ofRule[r.Name]+score.ofPairs[r.Name], "no kind of mistake is %s's", r.Name)
		t.Logf("%-24s kinds %2d", r.Name, score.ofRule[r.Name])
	}
	t.Logf("fixes tried %d", score.fixes)
	t.Logf("mutants %d, kinds %d, caught %d, missed %d, false alarms %d", score.mutants, len(all), score.caught, score.mutants-score.caught, alarms)
	assert.GreaterOrEqual(t, score.mutants, 600)
	assert.GreaterOrEqual(t, len(all), 60)
	assert.Equal(t, score.mutants, score.caught)
	assert.Zero(t, alarms)
}

// counts of mutants, and proof those of all kinds together.
type counts struct{ mutants, caught, fixes int }

type proof struct {
	counts
	sync.Mutex
	ofRule, ofPairs map[string]int
}

func (p *proof) add(k kind, c counts) {
	p.Lock()
	defer p.Unlock()
	p.mutants, p.caught, p.fixes = p.mutants+c.mutants, p.caught+c.caught, p.fixes+c.fixes
	p.ofRule[k.rule]++
}

// tryKind puts a mistake into boards, those first that come after the kind's own
// number, so that kinds differ in which they meet.
func tryKind(t *testing.T, n int, k kind) (c counts) {
	list := subjects()
	for i := 0; i < len(list) && c.mutants < mutantsOfKind; i++ {
		at := (n*7 + i) % len(list)
		s := *list[at]
		s.r = rand.New(rand.NewPCG(uint64(n), uint64(at)))
		m, ok := k.seed(&s)
		if !ok {
			continue
		}
		require.NotEqual(t, s.text, m.text, "nothing is changed")
		c.mutants++
		if caught, _ := try(t, k, &s, m, &c.fixes); caught {
			c.caught++
		}
	}
	assert.GreaterOrEqual(t, c.mutants, 2, "there are boards to make it in")
	return c
}

// strange is what no message may hold.
var strange = regexp.MustCompile(`NaN|Inf|(^|[^\d])-0(\.0+)?([^.\d]|$)|%!|<nil>`)

// try tells whether the rule named for a mutant catches it, and tries the fixes
// that are offered.
func try(t *testing.T, k kind, s *subject, m mutant, fixes *int) (caught bool, found []finding.Located) {
	a := readText(s.path, m.text)
	found = underAll(a)
	for _, f := range found {
		caught = caught || f.Rule == k.rule && (m.on == "" || slices.Contains(f.Items, m.on))
		assert.NotRegexp(t, strange, f.Message)
		if f.Category == finding.Language && k.rule != f.Rule && !k.broken {
			assert.Fail(t, "the mutant is no text", "%s: %s\n%s", f.Rule, f.Message, changed(s.text, m.text))
		}
	}
	assert.True(t, caught, "missed, on %q, in %s\n%s\nfound: %s", m.on, s.path, changed(s.text, m.text), said(found))
	if !k.quick {
		typed(t, s, m)
	}
	for _, f := range found {
		if f.Fix != nil && f.Category != finding.Language {
			*fixes++
			mend(t, a, f, found)
		}
	}
	return caught, found
}

// typed makes the mistake in a text that has been checked before, and takes it
// back: what is found must be what a check finds that knows nothing.
func typed(t *testing.T, s *subject, m mutant) {
	check := func(a *lang.Analysis) string {
		text := ""
		for _, f := range underAll(a) {
			text += fmt.Sprintf("%s %v", f.File.Path(), f.Span)
			for _, r := range f.Related {
				file, span, ok := a.Locate(r.Place)
				require.True(t, ok, r.Message)
				text += fmt.Sprintf(" (%s: %s %v)", r.Message, file.Path(), span)
			}
			text += said([]finding.Located{f})
		}
		return text
	}
	before := readText(s.path, s.text)
	clean := check(before)
	after := readAfter(s.path, m.text, before)
	assert.Equal(t, check(readText(s.path, m.text)), check(after), "after the mistake was typed\n%s", changed(s.text, m.text))
	assert.Equal(t, clean, check(readAfter(s.path, s.text, after)), "after it was taken back\n%s", changed(s.text, m.text))
}

// mend applies a fix: its finding goes and none comes.
func mend(t *testing.T, a *lang.Analysis, f finding.Located, before []finding.Located) {
	path, text := a.Root().Path(), a.Root().Text()
	mended := langtest.Apply(a, *f.Fix)[path].Text()
	for _, wrong := range langtest.Mended(f, before, examined(path, mended)) {
		assert.Fail(t, wrong, changed(text, mended))
	}
}

func said(list []finding.Located) string {
	var b strings.Builder
	for _, f := range list {
		fmt.Fprintf(&b, "\n  %s on %v: %s", f.Rule, f.Items, f.Message)
	}
	return b.String()
}

// changed shows the lines in which two texts differ.
func changed(before, after string) string {
	var b strings.Builder
	old, now := strings.Split(before, "\n"), strings.Split(after, "\n")
	for _, line := range old {
		if !slices.Contains(now, line) {
			b.WriteString("- " + line + "\n")
		}
	}
	for _, line := range now {
		if !slices.Contains(old, line) {
			b.WriteString("+ " + line + "\n")
		}
	}
	return b.String()
}

// What the seeders edit a text with. An edit of a place that is not the root
// text's, or nowhere, leaves the text as it is, and the seeder gives up.

func (s *subject) put(at source.Place, text string) string {
	file, span, ok := s.a.Locate(at)
	if !ok || file != s.a.Root() || s.b.Followed(at) != nil { // what is taken over is stated elsewhere
		return s.text
	}
	if !strings.HasPrefix(s.text[span.Start:], "at ") {
		text = strings.TrimPrefix(text, "at ") // one place of a row
	}
	return s.text[:span.Start] + text + s.text[span.End:]
}

func (s *subject) slice(at source.Place) string {
	file, span, ok := s.a.Locate(at)
	if !ok || file != s.a.Root() {
		return ""
	}
	return s.text[span.Start:span.End]
}

// within edits a statement by a pattern; the first match gives way.
func (s *subject) within(i *board.Item, pattern, text string) string {
	whole := s.slice(i.Whole)
	at := regexp.MustCompile(pattern).FindStringSubmatchIndex(whole)
	if at == nil {
		return s.text
	}
	if len(at) > 2 { // a group says what of the match gives way
		at = at[2:4]
	}
	return s.put(i.Whole, whole[:at[0]]+text+whole[at[1]:])
}

func (s *subject) drop(i *board.Item) string { return s.put(i.Whole, "") }

func (s *subject) add(statements ...string) string {
	return s.text + strings.Join(statements, "\n") + "\n"
}

// edit is a mutant on something, if the text has changed.
func (s *subject) edit(text, on string) (mutant, bool) {
	return mutant{text, on}, text != s.text
}

var none = mutant{}

// anyOf tries things in a random order until one takes the mistake.
func anyOf[T any](s *subject, list []T, try func(T) (mutant, bool)) (mutant, bool) {
	for _, i := range s.r.Perm(len(list)) {
		if m, ok := try(list[i]); ok {
			return m, true
		}
	}
	return none, false
}

// short is a length that falls short of a minimum, sometimes by next to nothing.
func (s *subject) short(minimum float64) string { return inMM(s.less(minimum)) }

func (s *subject) less(minimum float64) float64 {
	if s.r.IntN(4) == 0 {
		return math.Ceil(minimum) - 1
	}
	return math.Floor(minimum * (0.2 + 0.75*s.r.Float64()))
}

// long is one that exceeds a maximum.
func (s *subject) long(maximum float64) string {
	if s.r.IntN(4) == 0 {
		return inMM(math.Floor(maximum) + 1)
	}
	return inMM(math.Ceil(maximum * (1.05 + s.r.Float64())))
}

func (s *subject) min(parameter string) float64 { return s.l.Minimum(parameter).Value }
func (s *subject) max(parameter string) float64 { return s.l.Maximum(parameter).Value }

func inMM(nm float64) string {
	return strconv.FormatFloat(math.Round(nm)/1e6, 'f', -1, 64) + " mm"
}

func at(x, y float64) string { return "(" + inMM(x) + ", " + inMM(y) + ")" }

// outlineEdges lists the outline's edges that are straight, or all of them.
func (s *subject) outlineEdges(straightOnly bool) []*board.Edge {
	var list []*board.Edge
	for _, e := range s.b.Outline().Edges {
		i, _ := e.Profile.Path.SegmentAt((e.From + e.To) / 2)
		if !straightOnly || !e.Profile.Path.Segments()[i].Arc {
			list = append(list, e)
		}
	}
	return list
}

// runs lists stretches of an edge that are plated or bare, as positions, from
// their true ends; those shorter than a millimetre are left out.
type runOf struct {
	edge     *board.Edge
	plating  *board.Plating
	from, to float64
}

func (s *subject) runs(edges []*board.Edge, bare bool) []runOf {
	var list []runOf
	for _, e := range edges {
		wall := s.b.Wall(e.Profile)
		look := func(x board.Stretch) {
			l := e.Profile.Path.Perimeter()
			for _, shift := range []float64{-l, 0, l} {
				from, to := math.Max(e.From, x.From+shift), math.Min(e.To, x.To+shift)
				if to-from > 1e6 {
					a, b := e.Position(from), e.Position(to)
					list = append(list, runOf{e, x.Plating, math.Ceil(min(a, b)), math.Floor(max(a, b))})
				}
			}
		}
		if bare {
			wall.BareIn(e.From, e.To, look)
		} else {
			wall.PlatedIn(e.From, e.To, look)
		}
	}
	return list
}

// off is the point so far inward from a position on an edge.
func off(e *board.Edge, position, inward float64) string {
	p := e.Point(position).Add(e.Inward(position).Scale(inward))
	return at(p.X, p.Y)
}
