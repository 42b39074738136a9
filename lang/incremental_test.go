package lang_test

import (
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"hemline/checks"
	"hemline/lang"
	"hemline/lang/langtest"
	"hemline/lang/source"
)

// An analysis may take over what an earlier one of the same text found; it
// must say the very same as one that knows of no earlier. Here random edits
// are made to real texts, and after each both are compared in all they say.

// chooser picks a number from 0 up to n, n left out.
type chooser func(n int) int

// editor is a root text, the files it uses, and the analyses of their versions.
type editor struct {
	pick    chooser
	files   map[string]*source.File
	paths   []string // of files, the root first
	past    []*lang.Analysis
	said    []string                  // what each of them says
	session checks.Session            // of the rules, from version to version
	texts   []map[string]*source.File // past versions, to go back to
}

func newEditor(s langtest.Section, pick chooser) *editor {
	e := &editor{pick: pick, files: map[string]*source.File{}}
	for path, text := range s.Texts {
		e.files[path] = source.New(path, text)
		e.paths = append(e.paths, path)
	}
	slices.Sort(e.paths)
	return e
}

func (e *editor) read(path string) (*source.File, error) {
	if f := e.files[path]; f != nil {
		return f, nil
	}
	return nil, os.ErrNotExist
}

// pieces are what gets typed: tokens, halves of tokens, of characters and of
// line ends, and whole statements.
var pieces = strings.Split("|a|b|wall|south|all|middle|window|launch|1|2|0|.5|e9|mm|um| GHz|%|=|+|-|*|/|(|)|{|}|;|,|\"|//|\n|\r|\r\n| |é|\xc3|\xa9|🛠|\xff|.length|.width|board.thickness"+
	"|\nlet a = b\n|\nlet b = a + 1 mm\n|\nlet long = south.length\n|\nplating wall { along all; net GND; wrap top 1 mm }\n|\ngap g1 of wall on south at middle width 2 mm\n|\noutline rectangle 30 mm by 20 mm corner 2 mm\n"+
	"|\ncutout window rectangle 4 mm by 3 mm at (10 mm, 8 mm)\n|\nstack { copper top 35 um; dielectric core 1.5 mm; copper bottom 35 um }\n|\nboard b { thickness 1.6 mm }\n|\nfabricator f { limit wrap_land minimum 0.5 mm }\n"+
	"|\nuse \"b.hem\"\n|\nuse \"missing.hem\"\n|\ntab t on south at 5 mm width 2 mm solid\n|\nfeature f on top circle 1 mm at (3 mm, 3 mm) net V\n|\nfence s along south inset 1 mm pitch 1 mm hole 0.3 mm\n|\nfence s along south inset 1 mm pitch 1 mm hole 0.3 mm land 0.6 mm\n"+
	"|\nconnector launch on west at middle { body 4 mm; pin top width 1 mm length 2 mm }\n|\nconnector t on south at 9 mm { body 4 mm; pin top width 1 mm length 2 mm; opens wall margin 1 mm bridged }\n|\ntab t on south at 5 mm width 2 mm solid opens margin 1 mm\n|\ntab u on west at 5 mm width 2 mm solid opens wall w span 4 mm\n|\naccept tab_count on b because \"so\"\n"+
	"|\ngap room of wall on south at 5 mm width 3 mm for t\n|\naccept wrap_land on wall outline f with t because \"so\"\n|\nconnector t on west at 8 mm { body 2 mm reach 1 mm }\n|\nboard b { voltage 48 V; hazard none }\n"+
	"|\nnote \"wall touches the lid; tabs are ours\"\n|\nleave tab_places along south to shop because \"so\"\n|\nleave outline burrs to shop because \"\"\n|\ndelivery panel \"p.hem\"\n|\nmarking \"date\" on top at (5 mm, 5 mm)\n|\nrelief r over wall on top reach 1 mm\n|\nrelief r over wall on top bottom reach 1 mm margin 0.2 mm\n|\nrelief s over wall on top along south from 2 mm to 9 mm along west\n|\nplane on top net GND pullback 0.5 mm\n|\nplane on bottom top net GND pullback 0.5 mm\n|\nplane on bottom net V5 pullback 0.5 mm within (0 mm, 0 mm) to (9 mm, 9 mm)\n"+
	"|\ntolerance { outline 0.1 mm; gaps 0.2 mm }\n|\ntolerance { outline 1 mm }\n|\ncriteria { voids none; adhesion \"tape\" }\n|\ncriteria { voids maximum 1 mm }\n"+
	"|\nhole h diameter 2 mm at (5 mm, 5 mm) plated net GND land 3 mm\n|\ncastellation c on east from 4 mm to 9 mm pitch 2 mm hole 1 mm land 1.8 mm by 1.6 mm net GND\n", "|")

// step makes one edit.
func (e *editor) step() {
	kept := map[string]*source.File{}
	for path, f := range e.files {
		kept[path] = f
	}
	e.texts = append(e.texts, kept)
	path := e.paths[0]
	if e.pick(4) == 0 {
		path = e.paths[e.pick(len(e.paths))]
	}
	f := e.files[path]
	if f == nil {
		f = source.New(path, "")
	}
	switch e.pick(9) {
	case 0, 1: // type something anywhere, over what stands there
		start := e.pick(f.Len() + 1)
		f = f.Edit(source.Span{Start: start, End: start + e.pick(4)*e.pick(5)}, pieces[e.pick(len(pieces))])
	case 2: // a statement or a line is taken out
		f = f.Edit(e.line(f), "")
	case 3: // or stands once more, somewhere
		text := f.Slice(e.line(f))
		at := e.line(f).Start
		f = f.Edit(source.Span{Start: at, End: at}, text)
	case 4, 5: // a word or number becomes another one of the text
		a, b := e.word(f), e.word(f)
		f = f.Edit(a, f.Slice(b))
	case 6: // a new statement
		at := e.line(f).Start
		f = f.Edit(source.Span{Start: at, End: at}, pieces[e.pick(len(pieces))])
	case 7: // everything as it was some steps ago
		e.files = e.texts[e.pick(len(e.texts))]
		return
	case 8: // a used file goes, or the whole text is pasted over
		if path != e.paths[0] {
			files := map[string]*source.File{}
			for p, other := range e.files {
				if p != path {
					files[p] = other
				}
			}
			e.files = files
			return
		}
		f = source.New(path, f.Text())
	}
	files := map[string]*source.File{}
	for p, other := range e.files {
		files[p] = other
	}
	files[path] = f
	e.files = files
}

// line picks a line with its line end.
func (e *editor) line(f *source.File) source.Span {
	i := e.pick(f.Lines())
	return source.Span{Start: f.Line(i).Start, End: max(f.Line(i+1).Start, f.Line(i).End)}
}

// word picks a run of letters, digits and dots.
func (e *editor) word(f *source.File) source.Span {
	text, at := f.Text(), e.pick(f.Len()+1)
	part := func(i int) bool {
		return i >= 0 && i < len(text) && (text[i] == '_' || text[i] == '.' || text[i] >= '0' && text[i] <= '9' || text[i]|0x20 >= 'a' && text[i]|0x20 <= 'z')
	}
	for at < len(text) && !part(at) {
		at++
	}
	start, end := at, at
	for part(start - 1) {
		start--
	}
	for part(end) {
		end++
	}
	return source.Span{Start: start, End: end}
}

// check analyses the present version with and without the past.
func (e *editor) check(t require.TestingT) {
	root := e.files[langtest.RootPath]
	var prev *lang.Analysis
	if n := len(e.past); n > 0 {
		prev = e.past[n-1]
		if e.pick(6) == 0 { // an answer may be asked for of an older version's successor
			prev = e.past[e.pick(n)]
		}
	}
	got := lang.Analyze(root, e.read, prev)
	want := everything(lang.Analyze(source.New(root.Path(), root.Text()), e.read, nil))
	have := everythingSince(got, &e.session)
	if have != want {
		require.Equal(t, want, have, "after an edit to\n%s", root.Text())
	}
	e.past, e.said = append(e.past, got), append(e.said, have)
	require.NotContains(t, want, "LOST", "every place stands in the text")
}

// run makes edits while more says so.
func (e *editor) run(t require.TestingT, more func(step int) bool) {
	e.check(t)
	for step := 0; more(step); step++ {
		e.step()
		e.check(t)
	}
	i := e.pick(len(e.past))
	if now := everything(e.past[i]); now != e.said[i] {
		require.Equal(t, e.said[i], now, "what was known earlier does not change")
	}
}

// realTexts are every section of the language's own tests, and the example
// boards: texts of the size and kind that people write.
func realTexts(t testing.TB) []langtest.Section {
	list := append(langtest.Sections(t, "testdata/*.hem"), langtest.Examples(t, "..")...)
	return slices.DeleteFunc(list, func(s langtest.Section) bool {
		return strings.Contains(s.Title, "million") // takes its time to write out, and shows nothing here
	})
}

func TestAnEditedTextSaysWhatANewOneSays(t *testing.T) {
	t.Parallel()
	texts := realTexts(t)
	rapid.Check(t, func(t *rapid.T) {
		// rapid's own numbers are small for the most part, which keeps to the
		// start of everything that is picked from.
		pick := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 0)).IntN
		steps := rapid.IntRange(1, 6).Draw(t, "steps")
		newEditor(texts[pick(len(texts))], pick).run(t, func(step int) bool { return step < steps })
	})
}

func FuzzEdits(f *testing.F) {
	texts := realTexts(f)
	for i := 0; i < len(texts); i += 5 {
		f.Add(i, []byte{byte(i), 3, 1, 4, 1, 5, 9, 2, 6, 5, 3, 5, 8, 9, 7, 9})
	}
	f.Fuzz(func(t *testing.T, text int, program []byte) {
		at := 0
		pick := func(n int) int {
			// Two bytes a choice; past the program's end it is the first.
			v := 0
			for range 2 {
				v <<= 8
				if at < len(program) {
					v |= int(program[at])
				}
				at++
			}
			return v % n
		}
		e := newEditor(texts[uint(text)%uint(len(texts))], pick)
		e.run(t, func(step int) bool { return at < len(program) && step < 40 })
	})
}

// Analyses of several texts may start from the same earlier one at once.
func TestAnalysesFromOnePastAtOnce(t *testing.T) {
	s := langtest.Sections(t, "testdata/statements.hem")[0]
	prev := s.Analyze()
	root := prev.Root()
	edit := func(old, text string) *source.File {
		at := strings.Index(root.Text(), old)
		require.GreaterOrEqual(t, at, 0, old)
		return root.Edit(source.Span{Start: at, End: at + len(old)}, text)
	}
	versions := []*source.File{
		root,
		edit("let long  = 62 mm", "let long = 63 mm"),
		edit("of wall on east", "of walls on east"),
		edit("plane on ground", "plane on bottom"),
		edit("corner 1.5 mm", "corner 2 mm"),
		edit("note \"tabs", "cutout o circle 2 mm at (9 mm, nothing)\nnote \"tabs"),
	}
	want := make([]string, len(versions))
	for i, v := range versions {
		want[i] = everything(lang.Analyze(v, s.Reader(), nil))
	}
	before := everything(prev)
	var wg sync.WaitGroup
	var session checks.Session
	for range 4 {
		for i, v := range versions {
			wg.Go(func() {
				a := lang.Analyze(v, s.Reader(), prev)
				assert.Equal(t, want[i], everythingSince(a, &session))
				assert.Equal(t, before, everything(prev))
			})
		}
	}
	wg.Wait()
	assert.Equal(t, before, everything(prev), "what was known before did not change")
}

// Where a used file's fabricator stands is known anew when its `use` is moved, in
// the text or in a file that it uses.
func TestFabricatorsStandWhereTheyAreUsed(t *testing.T) {
	files := map[string]string{"b.hem": "fabricator b\n", "c.hem": "fabricator c\nuse \"b.hem\"\n"}
	read := func(path string) (*source.File, error) { return source.New(path, files[path]), nil }
	var a *lang.Analysis
	inUse := func(text string) string {
		a = lang.Analyze(source.New("a.hem", text), read, a)
		return a.Board().Fabricator().Name.Text
	}
	assert.Equal(t, "b", inUse("fabricator a\nuse \"c.hem\"\n"))
	assert.Equal(t, "a", inUse("use \"c.hem\"\nfabricator a\n"))
	files["c.hem"] = "use \"b.hem\"\nfabricator c\n"
	assert.Equal(t, "a", inUse("use \"c.hem\"\nfabricator a\n"))
	assert.Equal(t, "c", inUse("fabricator a\nuse \"c.hem\"\n"))
	files["c.hem"] = "use \"b.hem\"\nfabricator c\nuse \"b.hem\"\n"
	assert.Equal(t, "c", inUse("fabricator a\nuse \"c.hem\"\n"))
	files["c.hem"] = "fabricator c\nuse \"b.hem\"\n"
	assert.Equal(t, "b", inUse("fabricator a\nuse \"c.hem\"\n"), "no fabricator has changed, nor its place among the statements of its file")
}

// What is said of an item that takes over depends on whether what it is like is
// at fault, or goes round in a circle, wherever the fault comes from.
func TestWhatIsTakenOverIsReadAgain(t *testing.T) {
	const board = "outline rectangle 60 mm by 40 mm\ntypical scar tab { width wide; solid }\ntab a like scar on south at 9 mm\n"
	const row = "outline rectangle 60 mm by 40 mm\ntypical pins castellation { pitch 0.001 mm; hole 0.6 mm; land 1 mm by deep }\ncastellation a like pins on west from 5 mm to 35 mm land 1 mm by 1 mm\n"
	const round = "outline rectangle 60 mm by 40 mm\ntab a like b on south at 9 mm\ntab d like a on south at 50 mm\n"
	for _, texts := range [][2]string{
		{board + "let wide = 3 mm\n", board + "let wide = 3 GHz\n"},
		{round + "tab b like a on south at 20 mm\n", round + "tab b on south at 20 mm width 3 mm solid\n"},
		{round + "tab b like c on south at 20 mm\n", round + "tab b like c on south at 20 mm\ntab c like a on south at 30 mm\n"},
		{board + "let wide = 3 mm\n", strings.Replace(board, "scar tab", "scar hole", 1) + "let wide = 3 mm\n"},
		{strings.Replace(board, "wide", "3 mm", 1), strings.Replace(board, "wide", "4 mm", 1)},
		{board + "let wide = 3 mm\ntab e on north at 9 mm width 2 mm solid\ntab f on north at 30 mm like scar\n",
			board + "let wide = 3 mm\ntab e on north at 9 mm width 2 mm solid\ntab f on north at 30 mm like e\n"},
		{strings.Replace(board, "at 9 mm", "at 9 mm, 30 mm", 1) + "let wide = 3 mm\n", strings.Replace(board, "at 9 mm", "at 9 mm, 30 mm", 1) + "let wide = 3 mm\ntab e on north at 9 mm width 2 mm solid\n"},
		{row + "let deep = 1 mm\n", row + "let deep = 1 GHz\n"},
	} {
		for _, order := range [][2]int{{0, 1}, {1, 0}} {
			read := func(i int, prev *lang.Analysis) *lang.Analysis {
				return lang.Analyze(source.New(langtest.RootPath, texts[order[i]]), nil, prev)
			}
			assert.Equal(t, everything(read(1, nil)), everything(read(1, read(0, nil))), "from\n%s", texts[order[0]])
		}
	}
}
