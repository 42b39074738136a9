package syntax

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"hemline/lang/source"
)

// problems reads a text and lists what is wrong with its form as
// "line:column rule: message".
func problems(t *testing.T, text string) []string {
	t.Helper()
	d := Parse(source.New("a.hem", text), nil)
	var out []string
	add := func(list []Problem) {
		for _, p := range list {
			span, ok := d.Locate(p.Place)
			require.True(t, ok)
			at := d.File().Position(span.Start, source.Bytes)
			out = append(out, d.File().Slice(span)+" | "+p.Rule+" | "+p.Message+" @"+strings.Repeat("", at.Line))
		}
	}
	for _, s := range d.Statements() {
		add(s.Problems())
		if r := Read(s); r != nil {
			add(r.Problems)
		} else if len(s.Problems()) == 0 {
			add([]Problem{Unknown(s)})
		}
	}
	for i := range out {
		out[i] = strings.TrimSuffix(out[i], " @")
	}
	return out
}

// An item's name is written plain in an acceptance where that reads as a name.
func TestReferItem(t *testing.T) {
	accept := StatementNamed("accept")
	for name, want := range map[string]string{
		"wall": "wall", "outline": "outline", "tab": "tab", "t.1": "t.1", "s.2.rim": "s.2.rim", "board.voltage": "board.voltage",
		"with": `"with"`, "because": `"because"`, "low side": `"low side"`, "t.1a": `"t.1a"`, "1": `"1"`, "t.": `"t."`, "": `""`, `a"b`: `"a\"b"`,
	} {
		assert.Equal(t, want, ReferItem(accept, name), name)
	}
}

// Where an acceptance names items, keywords are names, in colour too.
func TestItemsAreClassified(t *testing.T) {
	d := Parse(source.New("a.hem", `accept r on tab a outline with on because "x"`), nil)
	var items []string
	for _, c := range d.Statements()[0].Tokens() {
		if c.Class == ClassItem {
			items = append(items, d.Statements()[0].Text()[c.Start:c.End])
		}
	}
	assert.Equal(t, []string{"tab", "a", "outline", "on"}, items)
}

func TestBrokenStatementsCostThemselvesAlone(t *testing.T) {
	for _, c := range []struct {
		name, text string
		want       []string
	}{
		{"a clean text", "hem 1\nlet a = 2 mm // why\n\nlet b = -(a + 3 mm) * 2 / max(1, 2)\nfence f along south inset 1 mm pitch 2 mm hole 0.3 mm\n", nil},
		{"body and line say the same", "tab t { on south; at 3 mm\n width 4 mm\n solid }\ntab u on south at 3 mm width 4 mm solid", nil},
		{"a value is missing", "let a =\nlet b = 2 mm", []string{" | syntax | expected a value, found the end of the statement"}},
		{"an operator dangles", "let a = 3 mm +\nlet b = 2 mm", []string{" | syntax | expected a value, found the end of the statement"}},
		{"a parenthesis is left open", "let a = (3 mm\nlet b = 2 mm", []string{" | syntax | expected ) or an operator, found the end of the statement"}},
		{"a brace is left open", "stack {\n copper a 35 um\ntab t on south at 1 mm width 2 mm solid",
			[]string{"{ | syntax | expected } to close this brace before the statement ends"}},
		{"a word nobody knows", "platng wall {\n net GND\n}\nlet a = 1", []string{"platng | unknown_keyword | platng is not a statement; did you mean plating?"}},
		{"a clause alone", "wrap top 0.8 mm", []string{"wrap | unknown_keyword | wrap is a clause of plating; it cannot stand alone"}},
		{"a clause nobody knows", "relief r over w on top reach 1 mm margn 2 mm",
			[]string{"margn | unknown_keyword | margn is not a clause of relief; did you mean margin?"}},
		{"a clause of something else", "relief r over w on top reach 1 mm pitch 2 mm",
			[]string{"pitch | unknown_keyword | pitch is not a clause of relief, which takes over, on, along, reach, margin"}},
		{"a body line nobody knows", "relief r {\n over w\n on top\n reech 1 mm\n}",
			[]string{"reech | unknown_keyword | reech is not a clause of relief; did you mean reach?"}},
		{"a unit nobody knows", "tab t on south at 3 mn width 4 mm solid", []string{"mn | wrong_value | mn is not a unit; did you mean nm?"}},
		{"a missing clause", "plating w {\n net GND\n}", []string{"plating | missing_clause | plating needs along EDGE… [from A to B]: the edges that are plated, or `all` of the outline's; with from and to, a stretch of the edge"}},
		{"neither of two", "tab t on south at 3 mm width 4 mm", []string{"tab | missing_clause | tab needs one of solid, perforated"}},
		{"both of two", "gap g of w on south at 3 mm width 4 mm from 1 mm to 2 mm", []string{"gap | repeated_clause | gap takes only one of at, from"}},
		{"a clause twice", "tab t on south at 3 mm at 4 mm width 4 mm solid", []string{"at | repeated_clause | at is stated twice in this tab"}},
		{"a text without an end", "use \"shops\nlet a = 1", []string{"\"shops | syntax | expected a value, a clause or the end of the statement, found a text whose closing quote is missing"}},
		{"bytes that are no UTF-8", "let a = \xff\nlet b = 1", []string{"\xff | syntax | expected a value, found \"\\xff\""}},
		{"a stray brace", "}\nlet a = 1", []string{"} | syntax | expected a keyword, found }"}},
		{"more after a brace", "stack { copper a 1 mm } let\nlet a = 1", []string{"let | syntax | expected the end of the line, found the keyword let"}},
		{"a keyword as a name", "let pitch = 2 mm", nil},
		{"a keyword as a name before clauses", "cutout hole circle 2 mm at (1 mm, 2 mm)", nil},
		{"a name that is missing before clauses", "cutout circle 2 mm at (1 mm, 2 mm)", []string{"cutout | wrong_value | expected a name after cutout"}},
		{"a value too many", "relief r over w on top reach 1 mm 2 mm", []string{"2 mm | wrong_value | reach takes one value, found one more: 2 mm"}},
		{"a function nobody knows", "let a = foo(3)", []string{"foo | syntax | foo is not a function; there are min, max, abs, sqrt, sin, cos, tan"}},
		{"a keyword in quotes is a name", `feature "pitch" on top circle 1 mm at (1 mm, 2 mm) net "+3V3"`, nil},
	} {
		t.Run(c.name, func(t *testing.T) { assert.Equal(t, c.want, problems(t, c.text)) })
	}
}

func TestTheVocabularyIsDocumented(t *testing.T) {
	var walk func(s *Spec)
	walk = func(s *Spec) {
		assert.NotEmpty(t, s.Sum, s.Word)
		assert.True(t, strings.HasSuffix(s.Sum, "."), "%s: a sentence ends with a stop", s.Word)
		for _, c := range s.Clauses {
			walk(c)
		}
	}
	for _, s := range Vocabulary() {
		walk(s)
		assert.NotEmpty(t, s.Example, s.Word)
		assert.Empty(t, problems(t, s.Example), s.Word)
	}
}

func TestNestingIsBounded(t *testing.T) {
	deep := strings.Repeat("(", 10_000)
	assert.Equal(t, []string{"let | syntax | parentheses are nested deeper than 64"}, problems(t, "let a = "+deep+"1"+strings.Repeat(")", 10_000)))
	got := problems(t, "stack "+strings.Repeat("{ copper a 1 mm ", 10_000)+strings.Repeat("}", 10_000)+"\nlet b = 1 mm\n")
	assert.Contains(t, got, "{ | syntax | braces are nested deeper than 8")
	assert.Less(t, len(got), 20)
}

func TestEveryByteBelongsToAToken(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) { gapless(t, rapid.String().Draw(t, "text")) })
}

func gapless(t require.TestingT, text string) {
	at := int32(0)
	for _, tok := range Lex(text) {
		require.Equal(t, at, tok.Start)
		require.Greater(t, tok.End, tok.Start)
		at = tok.End
	}
	require.Equal(t, int32(len(text)), at)
}

// same requires that a document read after an edit is the one read afresh.
func same(t require.TestingT, got *Document) {
	want := parseAll(got.file)
	require.Equal(t, want.chunks.n, got.chunks.n)
	last := uint64(0)
	for i := range want.chunks.n {
		w, g := want.chunks.at(i), got.chunks.at(i)
		require.Equal(t, w.start, g.start)
		require.Equal(t, w.stmt == nil, g.stmt == nil)
		if w.stmt == nil {
			continue
		}
		require.Equal(t, w.at, g.at)
		require.Equal(t, w.stmt.text, g.stmt.text)
		require.Equal(t, len(w.stmt.problems), len(g.stmt.problems))
		require.Greater(t, g.stmt.anchor.Order, last)
		last = g.stmt.anchor.Order
		whole, ok := got.Locate(g.stmt.Whole())
		require.True(t, ok)
		require.Equal(t, g.stmt.text, got.file.Slice(whole))
	}
}

const pieces = "let a = 1 mm\n|plating w {\n|  net GND\n|}\n|\"|(|)|{|}|;|\n|\r|// c\n|tab t on south|5|mm|é|🛠|\xff| |,"

func TestAnEditReadsWhatAFreshReadingReads(t *testing.T) {
	piece := rapid.SampledFrom(strings.Split(pieces, "|"))
	rapid.Check(t, func(t *rapid.T) {
		text := strings.Join(rapid.SliceOfN(piece, 0, 30).Draw(t, "text"), "")
		d := Parse(source.New("a.hem", text), nil)
		for range 8 {
			f := d.File()
			start := rapid.IntRange(0, f.Len()).Draw(t, "start")
			end := min(f.Len(), start+rapid.IntRange(0, 12).Draw(t, "cut"))
			with := strings.Join(rapid.SliceOfN(piece, 0, 3).Draw(t, "with"), "")
			d = Parse(f.Edit(source.Span{Start: start, End: end}, with), d)
			same(t, d)
		}
	})
}

func TestAnUntouchedStatementKeepsItsIdentity(t *testing.T) {
	d := Parse(source.New("a.hem", "let a = 1\n// about b\nlet b = 2\nlet c = 3\n"), nil)
	before := d.Statements()
	d = Parse(d.File().Edit(source.Span{Start: 13, End: 18}, "of"), d)
	assert.Equal(t, before, d.Statements())
	for i := range before {
		assert.Same(t, before[i], d.Statements()[i], "an edit in a comment touches no statement")
	}
	for range 5000 { // many lines typed at one place
		d = Parse(d.File().Edit(source.Span{}, "let z = 1\n"), d)
	}
	same(t, d)
}

func FuzzRead(f *testing.F) {
	for _, p := range strings.Split(pieces, "|") {
		f.Add(p+p+pieces, 3, 9, p)
	}
	for _, s := range Vocabulary() {
		f.Add(s.Example+"\n", 1, 4, "{")
	}
	f.Fuzz(func(t *testing.T, text string, start, end int, with string) {
		gapless(t, text)
		d := Parse(source.New("a.hem", text), nil)
		problems(t, text)
		ContextAt(text)
		same(t, Parse(d.File().Edit(source.Span{Start: start, End: end}, with), d))
	})
}

func BenchmarkRead(b *testing.B) {
	text := strings.Repeat("gap g1 of wall on south at x1 width 2 mm\nfeature f1 on top rectangle 1 mm by 2 mm at (x1, 30 mm) net N1\n", 5000)
	b.SetBytes(int64(len(text)))
	for b.Loop() {
		d := parseAll(source.New("a.hem", text))
		for _, s := range d.Statements() {
			Read(s)
		}
	}
}
