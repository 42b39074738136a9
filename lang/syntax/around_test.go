package syntax

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"hemline/lang/source"
)

// A text of many pages, edited anywhere, is read as one that was never read before: what an
// edit touches may be longer than what is looked at first, or all that follows.
func TestALongTextIsReadAgainAsANewOne(t *testing.T) {
	pieces := []string{"let a = 1 mm\n", "gap g of wall on south at 3 mm width 2 mm\n", "plating wall {\n  along south\n}\n", "// " + strings.Repeat("note ", 40) + "\n",
		"{", "}", "(", ")", "\"", "\n", "\r", ";", "let", " \u200b", "é", strings.Repeat("x ", 3000), strings.Repeat("  along south\n", 700), "plating wall {\n"}
	long := strings.Repeat(pieces[0]+pieces[1]+pieces[2]+pieces[3], 150)
	rapid.Check(t, func(t *rapid.T) {
		file := source.New("a.hem", long)
		d := Parse(file, nil)
		for range 4 {
			start := rapid.IntRange(0, file.Len()).Draw(t, "start")
			end := min(start+rapid.SampledFrom([]int{0, 0, 1, 5, 300, 20_000}).Draw(t, "length"), file.Len())
			file = file.Edit(source.Span{Start: start, End: end}, rapid.SampledFrom(pieces).Draw(t, "with"))
			d = Parse(file, d)
			want := Parse(source.New("a.hem", file.Text()), nil)
			require.Equal(t, want.chunks.n, d.chunks.n)
			for i := range want.chunks.n {
				c, got := want.chunks.at(i), d.chunks.at(i)
				require.Equal(t, c.start, got.start)
				require.Equal(t, c.at, got.at)
				require.Equal(t, c.stmt == nil, got.stmt == nil)
				if c.stmt != nil {
					require.Equal(t, c.stmt.text, got.stmt.text)
				}
			}
			require.Equal(t, len(want.statements), len(d.statements))
			for i, s := range want.statements {
				require.Equal(t, s.text, d.statements[i].text)
			}
			require.Equal(t, want.Hidden(), d.Hidden())
		}
	})
}
