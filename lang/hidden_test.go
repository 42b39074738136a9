package lang_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/lang"
	"hemline/lang/finding"
	"hemline/lang/source"
)

// hiddenIn lists what is found hidden in a text: line, message, and what its fix
// would make of the text, with a ? where that is not sure.
func hiddenIn(t *testing.T, text string) (found []string) {
	t.Helper()
	a := lang.Analyze(source.New("a.hem", text), nil, nil)
	for _, f := range a.Findings() {
		if f.Rule != lang.RuleHidden {
			continue
		}
		assert.Equal(t, finding.Risky, f.Category)
		file, span, ok := a.Locate(f.Place)
		require.True(t, ok)
		fixed := "none"
		if f.Fix != nil {
			fixed = text
			for i := len(f.Fix.Edits) - 1; i >= 0; i-- {
				_, at, _ := a.Locate(f.Fix.Edits[i].Place)
				fixed = fixed[:at.Start] + fixed[at.End:]
			}
			if f.Fix.Guess {
				fixed += "?"
			}
		}
		found = append(found, source.Visible(file.Slice(span))+" | "+f.Message+" | "+fixed)
	}
	return found
}

func TestHiddenCharacters(t *testing.T) {
	for _, c := range []struct {
		text string
		want []string
	}{
		{"\uFEFFlet a = 1 // µ, \t👩\u200D🔧\r\n", nil},
		{"let a = 1 // b\u202E c\n", []string{
			`\u{202E} | the line holds a hidden character, \u{202E} (it turns the direction of what is written): it may read otherwise than it shows | let a = 1 // b c` + "\n"}},
		{"// \u200Bb\x1b[2J\nlet a = 1", []string{
			`\u{200B}b\u{001B} | the line holds 2 hidden characters, \u{200B} the first (it takes no room): it may read otherwise than it shows | // b[2J` + "\nlet a = 1"}},
		// In a name it is part of it, here and where it is spoken of.
		{"let \"a\u2060\" = 1\nlet b = \"a\u2060\"\n// c\u2028\n", []string{
			`\u{2060} | the line holds a hidden character, \u{2060} (it takes no room): it may read otherwise than it shows | let "a" = 1` + "\nlet b = \"a\"\n// c\u2028\n?",
			`\u{2060} | the line holds a hidden character, \u{2060} (it takes no room): it may read otherwise than it shows | let "a" = 1` + "\nlet b = \"a\"\n// c\u2028\n?",
			`\u{2028} | the line holds a hidden character, \u{2028} (it breaks a line for some readers alone): it may read otherwise than it shows | ` + "let \"a\u2060\" = 1\nlet b = \"a\u2060\"\n// c\n"}},
		// A comment within a statement.
		{"board b {\n  // x\u0085\n}\n", []string{
			`\u{0085} | the line holds a hidden character, \u{0085} (a control character): it may read otherwise than it shows | board b {` + "\n  // x\n}\n"}},
	} {
		assert.Equal(t, c.want, hiddenIn(t, c.text), "%q", c.text)
	}
	assert.Len(t, hiddenIn(t, strings.Repeat("// \u200B\n", 3000)), 1000, "enough is enough")
	assert.Contains(t, hiddenIn(t, "// "+strings.Repeat("\u200B", 3000))[0], "| none")
	// Names and comments of one statement, and of the next, each as it is.
	mixed := hiddenIn(t, "board b { // \u200B\n net \"x\u2060\" // \u200B\n} // \u200B\nlet a\u200B = 1")
	require.Len(t, mixed, 4)
	for i, sure := range []bool{true, false, true, false} {
		assert.Equal(t, sure, !strings.HasSuffix(mixed[i], "?"), "%s", mixed[i])
	}
	// A statement is gone through once for all that it hides, or this would take minutes.
	assert.Contains(t, hiddenIn(t, "board b { // "+strings.Repeat("\u200B", 200_000)+"\n}")[0], "200000 hidden characters")
}

// What is hidden is known from version to version, whatever was edited before it.
func TestHiddenCharactersAreFollowed(t *testing.T) {
	f := source.New("a.hem", "let a = 1\n// one \u200B\nlet b = 2 // two \u202E\nlet c = 3\n// end \u2060")
	a := lang.Analyze(f, nil, nil)
	for _, edit := range []struct {
		at, until int
		text      string
	}{
		{0, 0, "let z = 26\n"}, {4, 5, "y\u200E"}, {0, 11, ""}, {30, 31, ""}, {12, 12, "\uFEFF"}, {0, 0, "\uFEFF"}, {0, 0, "\n"}, {0, 40, ""},
	} {
		f = f.Edit(source.Span{Start: edit.at, End: edit.until}, edit.text)
		a = lang.Analyze(f, nil, a)
		assert.Equal(t, source.Hidden(f.Text(), 0, f.Len()), append([]int32(nil), a.Document().Hidden()...), "%q", f.Text())
	}
}
