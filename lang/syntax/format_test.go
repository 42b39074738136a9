package syntax

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"hemline/lang/source"
)

func format(text string) string { return Format(Parse(source.New("a.hem", text), nil)) }

func TestFormat(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"spaces and units", "let  a=3mm+2*(  b -1mil )\nlet bcd = - 4 mm\n", "let a   = 3 mm + 2 * (b - 1 mil)\nlet bcd = -4 mm\n"},
		{"calls and points", "feature f on top circle 1mm at ( max( 1mm,2mm ) ,-3mm )", "feature f on top circle 1 mm at (max(1 mm, 2 mm), -3 mm)\n"},
		{"a body on one line", "plating w { along south; net GND; wrap top 1mm }", "plating w {\n  along south\n  net   GND\n  wrap  top 1 mm\n}\n"},
		{"names in a body", "stack {\ncopper top 35um\ndielectric core 1.5mm permittivity 4.3\n}", "stack {\n  copper     top  35 um\n  dielectric core 1.5 mm permittivity 4.3\n}\n"},
		{"blank lines", "\n\nlet a = 1\n\n\n\nlet b = 2\n\n\n", "let a = 1\n\nlet b = 2\n"},
		{"no blank line after or before a brace", "tab t {\n\n on south\n\n at 1 mm\n\n}\n", "tab t {\n  on south\n\n  at 1 mm\n}\n"},
		{"comments keep their place", "// head\nlet a = 1 // one\nlet long = 2 // two\n  // about c\nlet c = 3; // three\nlet d = 4\n// end",
			"// head\nlet a    = 1 // one\nlet long = 2 // two\n// about c\nlet c = 3 // three\nlet d = 4\n// end\n"},
		{"comments in a body", "tab t { // why\n // where\n on south // there\n}", "tab t { // why\n  // where\n  on south // there\n}\n"},
		{"a comment inside parentheses", "feature  f on top circle 1mm at (1mm, // here\n 2mm)\nlet  a = 1", "feature  f on top circle 1mm at (1mm, // here\n 2mm)\nlet a = 1\n"},
		{"a line break inside parentheses", "feature f on top circle 1 mm at (1 mm,\n   2 mm)", "feature f on top circle 1 mm at (1 mm, 2 mm)\n"},
		{"a broken statement stays", "let  a = \nlet  b = 2\nplatng   x {\n  net   GND\n}\nlet  c = 3", "let  a = \nlet b = 2\nplatng   x {\n  net   GND\n}\nlet c = 3\n"},
		{"an open brace stays", "tab  t {\n on   south\nlet  a = 1", "tab  t {\n on   south\nlet a = 1\n"},
		{"windows line ends", "let  a = 1\r\nlet  b = 2\r\n", "let a = 1\r\nlet b = 2\r\n"},
		{"an empty text", "", ""},
		{"texts in quotes stay", `note "a  b//c"`, "note \"a  b//c\"\n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			assert.Equal(t, c.want, format(c.text))
			assert.Equal(t, c.want, format(c.want), "canonical form stays")
		})
	}
}

// meaning is a text without blank space, line ends, semicolons: the tokens and
// comments that formatting must keep, each in its order.
func meaning(text string) (tokens, comments []string) {
	for _, t := range Lex(text) {
		switch t.Kind {
		case Space, Newline, Semicolon:
		case Comment:
			comments = append(comments, strings.TrimRight(text[t.Start:t.End], " \t"))
		default:
			tokens = append(tokens, text[t.Start:t.End])
		}
	}
	return tokens, comments
}

func formatKeeps(t require.TestingT, text string) {
	once := format(text)
	require.Equal(t, once, format(once), "formatting twice is formatting once:\n%q", text)
	before, commentsBefore := meaning(text)
	after, commentsAfter := meaning(once)
	require.Equal(t, before, after)
	require.Equal(t, commentsBefore, commentsAfter)
}

// A statement that is left alone may be the one whose line end comes first.
func TestOneFileHasOneLineEnd(t *testing.T) {
	assert.Equal(t, "plating w {\r\n  net GND\r\n", format("\r\nplating w {\n  net GND\n"))
	assert.Equal(t, "plating w {\n  net GND\n", format("\nplating w {\r\n  net GND\r\n"))
}

// On a line of its own the keyword would begin a statement.
func TestAStatementsKeywordInABodyStaysWhereItIs(t *testing.T) {
	for _, text := range []string{"tab t1 {plating w; on south}\n", "plating w { net GND; gap g }\n"} {
		assert.Equal(t, text, format(text))
	}
}

func TestFormatLosesNothing(t *testing.T) {
	piece := rapid.SampledFrom(append(strings.Split(pieces, "|"), "  ", "\n\n", ";", "// d", "at (1 mm, 2 mm)", "\r\n", "let b=2"))
	rapid.Check(t, func(t *rapid.T) {
		formatKeeps(t, strings.Join(rapid.SliceOfN(piece, 0, 30).Draw(t, "text"), ""))
	})
}

func FuzzFormat(f *testing.F) {
	for _, s := range Vocabulary() {
		f.Add(s.Example + " // c\n" + s.Example)
	}
	f.Add(strings.ReplaceAll(pieces, "|", ""))
	f.Fuzz(func(t *testing.T, text string) { formatKeeps(t, text) })
}
