package source

import (
	"strings"
	"testing"
	"unicode/utf16"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestPositionsCountWhatTheyName(t *testing.T) {
	f := New("a.hem", "aé€🛠z\nb")
	for _, c := range []struct{ offset, bytes, utf16, runes int }{
		{0, 0, 0, 0}, {1, 1, 1, 1}, {3, 3, 2, 2}, {6, 6, 3, 3}, {10, 10, 5, 4}, {11, 11, 6, 5},
	} {
		assert.Equal(t, Position{0, c.bytes}, f.Position(c.offset, Bytes))
		assert.Equal(t, Position{0, c.utf16}, f.Position(c.offset, UTF16))
		assert.Equal(t, Position{0, c.runes}, f.Position(c.offset, Runes))
		assert.Equal(t, c.offset, f.Offset(Position{0, c.bytes}, Bytes))
		assert.Equal(t, c.offset, f.Offset(Position{0, c.utf16}, UTF16))
		assert.Equal(t, c.offset, f.Offset(Position{0, c.runes}, Runes))
	}
	assert.Equal(t, 6, f.Offset(Position{0, 4}, UTF16), "half a surrogate pair is the character's start")
	assert.Equal(t, 11, f.Offset(Position{0, 99}, UTF16), "past a line's end is its end")
	assert.Equal(t, 13, f.Offset(Position{9, 0}, UTF16), "past the text is its end")
}

func TestLineEndings(t *testing.T) {
	f := New("a.hem", "a\r\nb\rc\nd")
	require.Equal(t, 4, f.Lines())
	for line, want := range []string{"a", "b", "c", "d"} {
		assert.Equal(t, want, f.Slice(f.Line(line)))
	}
	assert.Equal(t, 1, f.Offset(Position{0, 5}, UTF16), "a column never lands inside the line ending")
}

// Checked against the standard library's UTF-16 encoder.
func TestUTF16AgreesWithTheStandardLibrary(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		line := strings.Map(func(r rune) rune {
			if r == '\n' || r == '\r' {
				return 'x'
			}
			return r
		}, rapid.String().Draw(t, "line"))
		f := New("a.hem", line)
		assert.Equal(t, len(utf16.Encode([]rune(line))), f.Position(len(line), UTF16).Column)
	})
}

// same holds two files of one text to each other by everything that is asked of them.
func same(t require.TestingT, want, f *File) {
	require.Equal(t, want.Text(), f.Text())
	require.Equal(t, want.Len(), f.Len())
	require.Equal(t, want.Lines(), f.Lines())
	require.Equal(t, strings.Count(f.Text(), ";"), f.Semicolons())
	require.Equal(t, utf8.ValidString(f.Text()), f.Valid())
	starts := lineStarts([]int32{0}, f.Text())
	require.Len(t, starts, f.Lines())
	for line, start := range starts {
		require.Equal(t, int(start), f.Line(line).Start)
		require.Equal(t, want.Line(line), f.Line(line))
		require.Equal(t, line, f.LineOf(int(start)))
	}
	for i := 0; i <= f.Len(); i += 1 + f.Len()/50 {
		require.Equal(t, want.Position(i, UTF16), f.Position(i, UTF16))
		require.Equal(t, f.Text()[i:], f.Slice(Span{i, f.Len()}))
		text, whole := f.From(i, 100)
		require.True(t, strings.HasPrefix(f.Text()[i:], text))
		require.Equal(t, len(text) == f.Len()-i, whole)
	}
}

func TestAnEditIsTheSameAsANewFile(t *testing.T) {
	text := rapid.Custom(func(t *rapid.T) string {
		short := rapid.StringOf(rapid.RuneFrom([]rune("ab;\r\n\r\né🛠"))).Draw(t, "piece")
		return strings.Repeat(short, rapid.SampledFrom([]int{1, 1, 1, 10, 1000}).Draw(t, "times"))
	})
	rapid.Check(t, func(t *rapid.T) {
		f := New("a.hem", text.Draw(t, "text"))
		for range 5 {
			start := rapid.IntRange(0, f.Len()).Draw(t, "start")
			end := rapid.IntRange(start, f.Len()).Draw(t, "end")
			with := text.Draw(t, "with")
			want := New("a.hem", f.Text()[:start]+with+f.Text()[end:])
			before := f
			f = f.Edit(Span{start, end}, with)
			same(t, want, f)
			front, back := Shared(before, f)
			require.Equal(t, f.Text()[:front], before.Text()[:front])
			require.Equal(t, f.Text()[f.Len()-back:], before.Text()[before.Len()-back:])
			require.GreaterOrEqual(t, front, min(start, f.Len()))
			require.GreaterOrEqual(t, front+back, min(before.Len()-(end-start), f.Len()-len(with)))
			require.LessOrEqual(t, front+back, min(before.Len(), f.Len()))
		}
	})
}

func FuzzEdit(f *testing.F) {
	f.Add("a\r\nb", 1, 2, "\r")
	f.Fuzz(func(t *testing.T, text string, start, end int, with string) {
		file := New("a", text).Edit(Span{start, end}, with)
		same(t, New("a", file.Text()), file)
		for line := -1; line <= file.Lines(); line++ {
			span := file.Line(line)
			for _, enc := range []Encoding{Bytes, UTF16, Runes} {
				offset := file.Offset(Position{line, 1 << 30}, enc)
				assert.Equal(t, span.End, offset)
			}
		}
	})
}
