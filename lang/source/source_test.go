package source

import (
	"strings"
	"testing"
	"unicode/utf16"

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

func TestAnEditIsTheSameAsANewFile(t *testing.T) {
	text := rapid.StringOf(rapid.RuneFrom([]rune("ab\r\n\r\né🛠")))
	rapid.Check(t, func(t *rapid.T) {
		f := New("a.hem", text.Draw(t, "text"))
		for range 5 {
			start := rapid.IntRange(0, f.Len()).Draw(t, "start")
			end := rapid.IntRange(start, f.Len()).Draw(t, "end")
			with := text.Draw(t, "with")
			want := New("a.hem", f.text[:start]+with+f.text[end:])
			f = f.Edit(Span{start, end}, with)
			require.Equal(t, want.text, f.text)
			require.Equal(t, want.lines, f.lines)
		}
	})
}

func FuzzEdit(f *testing.F) {
	f.Add("a\r\nb", 1, 2, "\r")
	f.Fuzz(func(t *testing.T, text string, start, end int, with string) {
		file := New("a", text).Edit(Span{start, end}, with)
		assert.Equal(t, New("a", file.text).lines, file.lines)
		for line := -1; line <= file.Lines(); line++ {
			span := file.Line(line)
			for _, enc := range []Encoding{Bytes, UTF16, Runes} {
				offset := file.Offset(Position{line, 1 << 30}, enc)
				assert.Equal(t, span.End, offset)
			}
		}
	})
}
