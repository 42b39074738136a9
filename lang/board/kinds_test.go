package board_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"maps"
	"path/filepath"
	"reflect"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/lang"
	"hemline/lang/board"
	"hemline/lang/langtest"
	"hemline/lang/syntax"
)

// The table has a row for each statement of the vocabulary, in its order, and
// what a kind's row says of its items holds for a text that states each.
func TestTheTableOfKindsIsTheVocabulary(t *testing.T) {
	words, texts := langtest.Whole()
	a := langtest.WholeBut("", words, texts, nil)
	require.Empty(t, a.Findings(), "the text is whole")
	for i, k := range board.Kinds() {
		spec := syntax.Vocabulary()[i]
		assert.Equal(t, spec.Word, k.Word)
		assert.Equal(t, !spec.Repeat, k.Once, "%s: what the vocabulary lets stand once", k.Word)
		assert.Same(t, k, board.KindNamed(k.Word))
		assert.NotEmpty(t, k.Symbol, k.Word)
		if slices.Contains([]string{"hem", "use"}, k.Word) {
			assert.Empty(t, k.Items(a.Board()), k.Word)
			continue
		}
		items := k.Items(a.Board())
		if assert.NotEmpty(t, items, "%s: an item of the kind is on the board", k.Word) && items[0].Name.Given() {
			assert.Same(t, items[0], k.Find(a.Board(), items[0].Name.Text), k.Word)
		}
		assert.Nil(t, k.Find(a.Board(), "nothing"), k.Word)
	}
	assert.Len(t, board.Kinds(), len(words))
	assert.Nil(t, board.KindNamed("hole_that_is_none"))
}

// What is read of a board through a view leaves its mark: whenever two versions
// differ in what a method says, the marks that reading left are among what the
// versions differ in. Each kind is taken out of a text that has them all, and
// put back, and every method asked before and after.
func TestWhatIsReadIsMarked(t *testing.T) {
	words, texts := langtest.Whole()
	full := langtest.WholeBut("", words, texts, nil)
	flat := maps.Clone(texts) // no stack: the board says how thick it is
	flat["stack"], flat["board"] = "", "board receiver { thickness 1.6 mm; class 3 }\n"
	asked := map[string]bool{}
	read := map[string]board.Reads{}
	for _, word := range append([]string{"no stack"}, words...) {
		texts := texts
		if word == "no stack" {
			word, texts = "board", flat
		}
		full := langtest.WholeBut("", words, texts, nil)
		less := langtest.WholeBut(word, words, texts, full)
		more := langtest.WholeBut("", words, texts, less)
		for _, pair := range [][2]*board.Board{{full.Board(), less.Board()}, {less.Board(), more.Board()}} {
			old, now := pair[0], pair[1]
			differing := now.Differing(old)
			for name, ask := range questions(full) {
				asked[name] = true
				var reads board.Reads
				before := ask(old.Recording(&reads))
				read[name] |= reads
				if after := ask(now); !reflect.DeepEqual(before, after) {
					assert.NotZero(t, reads&differing, "%s says something else without %s, and read only %q of what differs: %q", name, word, reads, differing)
				}
			}
		}
		if k := board.KindNamed(word); len(k.Items(full.Board())) > 0 {
			assert.NotZero(t, less.Board().Differing(full.Board()), word)
		}
	}
	for i := range reflect.TypeFor[*board.Board]().NumMethod() {
		m := reflect.TypeFor[*board.Board]().Method(i).Name
		if !slices.Contains([]string{"Differing", "Recording", "Whole", "ReadAll"}, m) {
			assert.True(t, asked[m], "%s: a method that this test does not ask", m)
			assert.NotZero(t, read[m], "%s leaves no mark", m)
			assert.NotEqual(t, board.Everything, read[m], "%s reads everything", m)
		}
	}
	// Nothing is read again for nothing: each kind's list has a mark of its own.
	marks := map[board.Reads]string{}
	for _, k := range board.Kinds() {
		var reads board.Reads
		if len(k.Items(full.Board().Recording(&reads))) > 0 {
			assert.Empty(t, marks[reads], "%s has the same mark", k.Word)
			assert.Equal(t, k.Word, reads.String())
			marks[reads] = k.Word
		}
	}
	var all board.Reads
	full.Board().Recording(&all).ReadAll()
	assert.Equal(t, board.Everything, all)
	assert.Zero(t, full.Board().Differing(full.Board()))
}

// A cached wall marks its lists at every access, whoever built it.
func TestAWallIsMarkedEachTime(t *testing.T) {
	words, texts := langtest.Whole()
	b := langtest.WholeBut("", words, texts, nil).Board()
	for range 2 {
		var reads board.Reads
		b.Recording(&reads).Wall(b.Outline())
		assert.Equal(t, "cutout gap opened outline plating", reads.String())
	}
}

// questions ask a board every question that it answers.
func questions(a *lang.Analysis) map[string]func(*board.Board) any {
	b := a.Board()
	plating := b.Platings()[0]
	all := board.Stretch{Profile: b.Outline(), Plating: plating, To: b.Outline().Path.Perimeter()}
	var cutPlanes []*board.Plane // to the west half
	for _, p := range b.Planes() {
		box := all.Profile.Path.Box()
		box.Max.X = box.Center().X
		x := *p
		x.Within = &box
		cutPlanes = append(cutPlanes, &x)
	}
	two := func(x, ok any) any { return []any{x, ok} }
	list := map[string]func(*board.Board) any{
		"Value": func(b *board.Board) any {
			q, ok := b.Value("wide")
			r, also := b.Value("board.thickness")
			return []any{q, ok, r, also}
		},
		"Typicals":          func(b *board.Board) any { return b.Typicals() },
		"Followers":         func(b *board.Board) any { return b.Followers("scar") },
		"Followed":          func(b *board.Board) any { return b.Followed(a.Board().Tabs()[0].Width.At) },
		"States":            func(b *board.Board) any { return b.States("tab") },
		"Thickness":         func(b *board.Board) any { v, ok := b.Thickness(); return two(v, ok) },
		"Region":            func(b *board.Board) any { r, ok := b.Region(); return two(r, ok) },
		"ToleranceOf":       func(b *board.Board) any { return b.ToleranceOf("outline") },
		"CriterionOf":       func(b *board.Board) any { return b.CriterionOf("voids") },
		"FinishOf":          func(b *board.Board) any { return b.FinishOf(plating) },
		"FaceOf":            func(b *board.Board) any { f, ok := b.FaceOf("top"); return two(f, ok) },
		"OuterLayer":        func(b *board.Board) any { return b.OuterLayer(board.Top) },
		"SameLayer":         func(b *board.Board) any { return b.SameLayer("top", "ground") },
		"Edge":              func(b *board.Board) any { return b.Edge("south") },
		"EdgesNamed":        func(b *board.Board) any { return b.EdgesNamed("south") },
		"PlatingNamed":      func(b *board.Board) any { return b.PlatingNamed("wall") },
		"ConnectorNamed":    func(b *board.Board) any { return b.ConnectorNamed("antenna") },
		"CastellationNamed": func(b *board.Board) any { return b.CastellationNamed("left") },
		"Joins":             func(b *board.Board) any { return b.Joins(plating, "ground") },
		"Joined":            func(b *board.Board) any { return b.Joined(plating) },
		"OnBoard":           func(b *board.Board) any { return b.OnBoard(all.Profile.Path.Box().Center()) },
		"TabsIn":            func(b *board.Board) any { return b.TabsIn(all) },
		"GapsIn":            func(b *board.Board) any { return b.GapsIn(all) },
		"CastellationsIn":   func(b *board.Board) any { return b.CastellationsIn(all) },
		"SameShapes":        func(b *board.Board) any { return b.SameShapes(a.Board()) },
		"SameWalls":         func(b *board.Board) any { return b.SameWalls(a.Board()) },
		"PlatedLength":      func(b *board.Board) any { return b.PlatedLength(plating) },
		"PlatedBy":          func(b *board.Board) any { return slices.Collect(b.PlatedBy(plating)) },
		"FinishedBy":        func(b *board.Board) any { return slices.Collect(b.FinishedBy(plating)) },
		"Crowded":           func(b *board.Board) any { return b.Crowded(all.Profile, 0, 1e7) },
		"Runs":              func(b *board.Board) any { return b.Runs(plating) },
		"Walled":            func(b *board.Board) any { return slices.Collect(b.Walled(all)) },
		"Roots": func(b *board.Board) any {
			var list []board.Stretch
			for _, root := range b.Roots(all) {
				list = append(list, root)
			}
			return list
		},
		"RootsIn": func(b *board.Board) any { return b.RootsIn(all) },
		"Rooted":  func(b *board.Board) any { return slices.ContainsFunc(b.Tabs(), b.Rooted) },
		"Footing": func(b *board.Board) any {
			s, width := b.Footing(a.Board().Connectors()[0], 0)
			return []any{s, width}
		},
		"Meets": func(b *board.Board) any {
			var list []bool
			for _, x := range cutPlanes {
				list = append(list, b.Meets(x, plating))
			}
			return list
		},
		"Borders": func(b *board.Board) any {
			var list []bool
			for _, x := range cutPlanes {
				list = append(list, b.Borders(x, plating))
			}
			return list
		},
		"RunsTo": func(b *board.Board) any {
			var list []bool
			for _, x := range a.Board().Planes() {
				list = append(list, b.RunsTo(x, plating))
			}
			return list
		},
		"Interrupts":        func(b *board.Board) any { return b.Interrupts(a.Board().Gaps()[0]) },
		"FinishOfHalfHoles": func(b *board.Board) any { return b.FinishOfHalfHoles(&board.Castellation{}) },
		"LandsOn":           func(b *board.Board) any { return b.LandsOn(&board.Castellation{}, "ground") },
		"Openings":          func(b *board.Board) any { return b.Openings(a.Board().Reliefs()[0], 1e5) },
		"ReachOver":         func(b *board.Board) any { return b.ReachOver(&board.Relief{}, "wall", board.Top, 1e5) },
		"CopperOf":          func(b *board.Board) any { return b.CopperOf("wall", plating.Along[0]) },
		"OpeningCount":      func(b *board.Board) any { return b.OpeningCount(plating) },
		"WrapArea":          func(b *board.Board) any { return b.WrapArea(plating, board.Top) },
		"ClassCopper":       func(b *board.Board) any { a, l, ok := b.ClassCopper(); return []any{a, l, ok} },
		"Wall": func(b *board.Board) any {
			if b.Outline() == nil {
				return nil
			}
			return *b.Wall(b.Outline())
		},
		"Finished": func(b *board.Board) any {
			if b.Outline() == nil {
				return nil
			}
			return *b.Finished(b.Outline())
		},
		"ProfilesNear": func(b *board.Board) any {
			var list []*board.Profile
			b.ProfilesNear(all.Profile.Path.Box(), 0, func(p *board.Profile) { list = append(list, p) })
			return list
		},
	}
	v := reflect.TypeFor[*board.Board]()
	for i := range v.NumMethod() {
		m := v.Method(i)
		if m.Type.NumIn() == 1 && m.Type.NumOut() == 1 && list[m.Name] == nil && m.Name != "Whole" {
			list[m.Name] = func(b *board.Board) any { return m.Func.Call([]reflect.Value{reflect.ValueOf(b)})[0].Interface() }
		}
	}
	return list
}

// What stands behind the accessors is reached in the files that mark it alone.
func TestBoardsAreReadThroughTheirAccessors(t *testing.T) {
	files, err := filepath.Glob("*.go")
	require.NoError(t, err)
	inside := 0
	for _, file := range files {
		parsed, err := parser.ParseFile(token.NewFileSet(), file, nil, 0)
		require.NoError(t, err)
		ast.Inspect(parsed, func(n ast.Node) bool {
			if s, ok := n.(*ast.SelectorExpr); ok && s.Sel.Name == "model" {
				inside++
				assert.Contains(t, []string{"board.go", "reads.go", "kinds.go", "build.go"}, file, "a board is read without a mark")
			}
			return true
		})
	}
	assert.Positive(t, inside)
}
