package lang_test

import (
	"errors"
	"fmt"
	"runtime/debug"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/lang"
	"hemline/lang/board"
	"hemline/lang/langtest"
	"hemline/lang/source"
)

func analyze(text string) *lang.Analysis {
	return lang.Analyze(source.New(langtest.RootPath, text), nil, nil)
}

// lines repeats a line with its number in place of each %d.
func lines(n int, format string) string {
	var b strings.Builder
	for i := range n {
		b.WriteString(strings.ReplaceAll(format, "%d", fmt.Sprint(i)))
	}
	return b.String()
}

// chain is a chain of lets, each of which reads the next.
func chain(n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, "let a%d = a%d\n", i, i+1)
	}
	return b.String() + fmt.Sprintf("let a%d = 1 mm\n", n)
}

func messages(t *testing.T, a *lang.Analysis) []string {
	t.Helper()
	var list []string
	for _, f := range langtest.OfText(a) {
		list = append(list, fmt.Sprintf("%s:%d %s: %s", f.File.Path(), f.File.LineOf(f.Span.Start)+1, f.Rule, f.Message))
	}
	return list
}

func TestTextsThatStateNothing(t *testing.T) {
	for _, text := range []string{"", "\n\n", "// a comment\n", " ; ;\r\n", "\ufeff"} {
		assert.Equal(t, []string{"a.hem:1 empty: the file states nothing; `hemline new FILE` writes a board to start from"}, messages(t, analyze(text)), "%q", text)
	}
}

func TestTextThatIsNoUTF8(t *testing.T) {
	a := analyze("let a = 1 mm\nlet b = 2 mm // caf\xe9 \xff\n")
	assert.Equal(t, []string{"a.hem:2 encoding: the file is not UTF-8: byte 0xE9 is part of no character (2 such bytes)"}, messages(t, a))
	assert.Len(t, a.Board().Lets(), 2)
}

func TestTextsThatAreTooLong(t *testing.T) {
	long := "let a = 1 mm\n" + strings.Repeat(" ", source.MaxBytes)
	a := analyze(long)
	assert.Equal(t, []string{fmt.Sprintf("a.hem:1 too_large: the file is too long: it has %d bytes; at most 8388608 are read", len(long))}, messages(t, a))
	assert.Empty(t, a.Board().Lets())

	a = analyze("let a = 1 mm\n" + strings.Repeat("\n;", lang.MaxLines/2))
	assert.Equal(t, []string{"a.hem:1 too_large: the file is too long: it has 250002 lines and semicolons; at most 250000 are read"}, messages(t, a))
}

// Files count together, so that a text cannot bring in more through use.
func TestUsedFilesThatAreTooLongTogether(t *testing.T) {
	read := func(path string) (*source.File, error) {
		return source.New(path, "let "+strings.TrimSuffix(path, ".hem")+" = 1 mm\n"+strings.Repeat(" ", source.MaxBytes/2)), nil
	}
	a := lang.Analyze(source.New(langtest.RootPath, "use \"b.hem\"\nuse \"c.hem\"\n"), read, nil)
	assert.Equal(t, []string{"a.hem:2 use: cannot read c.hem: it has 4194317 bytes; at most 8388608 are read, all files together"}, messages(t, a))
	require.Len(t, a.Board().Lets(), 1)
}

func TestUseIsBounded(t *testing.T) {
	read := func(path string) (*source.File, error) {
		n := 0
		_, err := fmt.Sscanf(path, "%d.hem", &n)
		return source.New(path, fmt.Sprintf("use \"%d.hem\"\nlet a%d = 1 mm\n", n+1, n)), err
	}
	a := lang.Analyze(source.New(langtest.RootPath, `use "1.hem"`), read, nil)
	assert.Equal(t, []string{"32.hem:1 use: use is nested deeper than 32 files"}, messages(t, a))
	assert.Len(t, a.Board().Lets(), lang.MaxUseDepth)

	read = func(path string) (*source.File, error) { return source.New(path, "let a"+path[:3]+" = 1 mm"), nil }
	var text strings.Builder
	for i := range lang.MaxFiles + 2 {
		fmt.Fprintf(&text, "use \"%d.hem\"\n", 100+i)
	}
	a = lang.Analyze(source.New(langtest.RootPath, text.String()), read, nil)
	assert.Equal(t, []string{
		"a.hem:256 use: more than 256 files are used", "a.hem:257 use: more than 256 files are used", "a.hem:258 use: more than 256 files are used",
	}, messages(t, a))
	assert.Len(t, a.Files(), lang.MaxFiles)
}

func TestUseWithoutAReaderAndWithOneThatFails(t *testing.T) {
	a := analyze(`use "b.hem"`)
	assert.Equal(t, []string{"a.hem:1 use: cannot read b.hem: there is no place to read it from"}, messages(t, a))
	a = lang.Analyze(source.New("dir/sub/a.hem", `use "../b.hem"`), func(path string) (*source.File, error) {
		assert.Equal(t, "dir/b.hem", path)
		return nil, errors.New("it is a folder; expected a file")
	}, nil)
	assert.Equal(t, []string{"dir/sub/a.hem:1 use: cannot read dir/b.hem: it is a folder; expected a file"}, messages(t, a))
}

func TestResolve(t *testing.T) {
	for _, c := range [][3]string{
		{"a.hem", "b.hem", "b.hem"},
		{"boards/a.hem", "../shops/b.hem", "shops/b.hem"},
		{"/boards/a.hem", "b.hem", "/boards/b.hem"},
		{"boards/a.hem", "/shops/b.hem", "/shops/b.hem"},
		{`C:\boards\a.hem`, `..\shops\b.hem`, "C:/shops/b.hem"},
		{`boards/a.hem`, `D:\shops\b.hem`, "D:/shops/b.hem"},
		{"../a.hem", "./b.hem", "../b.hem"},
	} {
		assert.Equal(t, c[2], lang.Resolve(c[0], c[1]), "%s uses %s", c[0], c[1])
	}
}

// Nothing that a text says may keep hemline busy for long or use up its stack.
// Each of these took minutes, gigabytes or the process itself before it was
// bounded; all together they take a second.
func TestTextsThatMeanHarm(t *testing.T) {
	defer debug.SetMaxStack(debug.SetMaxStack(16 << 20))
	const outline = "outline rectangle 20 mm by 10 mm\n"
	for _, c := range []struct {
		name, text string
		findings   int
	}{
		{"a chain of lets, the last first", chain(20_000), 0},
		{"names like others, none known", lines(5000, "let x%d = 1 mm\n") + lines(5000, "let y%d = z%d\n"), 5000},
		{"edges that are none, of a path with many", "outline {\nstart (0 mm, 0 mm)\n" + lines(5000, "line p%d to (%d mm, 1 mm)\n") + "close back\n}\n" + lines(5000, "tab t%d on q%d at 1 mm width 1 mm solid\n"), 5000},
		{"gaps in platings that are none", outline + lines(5000, "gap g%d of w%d on south at 1 mm width 1 mm for c%d\n"), 10_000},
		{"pieces, then as many closes", "outline {\n start (0 mm, 0 mm)\n" + strings.Repeat("line a\n", 25_000) + strings.Repeat("close a\n", 25_000) + "}\n", 49_999},
		{"many platings of one edge and many cutouts", outline + lines(5000, "cutout c%d circle 1 um at (1 mm, 5 mm)\nplating p%d along south net g\n"), 0},
		{"every row as long as may be", outline + lines(60, "castellation c%d on south from 0 mm to 19.9 mm pitch 1 um hole 1 um land 1 um by 1 um\n"), 55},
		{"each like the one before", outline + "tab a0 on south at 9 mm width 3 mm solid\n" + likes(20_000), 0},
		{"names without end", lines(300, "let "+strings.Repeat("a", 4000)+"%d = 1\n"), 300},
	} {
		t.Run(c.name, func(t *testing.T) {
			start := time.Now()
			a := analyze(c.text)
			// Under a second on an idle machine; what grows with the square of the
			// text takes minutes. A busy machine is no fault.
			assert.Less(t, time.Since(start), 30*time.Second)
			assert.Equal(t, c.findings, len(a.Findings()))
		})
	}
}

func TestItemsAreBoundedTogether(t *testing.T) {
	row := "fence f%d along south inset 0.01 mm pitch 1 um hole 0.3 mm\n"
	text := "outline rectangle 20 mm by 10 mm\n" + lines(6, row)
	a := analyze(text)
	assert.Equal(t, []string{"a.hem:7 too_many: with this row there are more than 100000 half holes, vias and holes of tabs on the board, the most that are read"}, messages(t, a))
	total := 0
	for _, f := range a.Board().Fences() {
		total += len(f.Vias)
	}
	assert.LessOrEqual(t, total, board.MaxAllItems)

	// With less before it, the row that was left out is in.
	root := a.Root()
	start := strings.Index(text, "fence f2")
	a = lang.Analyze(root.Edit(source.Span{Start: start, End: strings.Index(text, "fence f3")}, ""), nil, a)
	assert.Empty(t, a.Findings())
	assert.Len(t, a.Board().Fences(), 5)
}

// likes are tabs each of which is like the one before.
func likes(n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, "tab a%d like a%d on south at 9 mm\n", i+1, i)
	}
	return b.String()
}
