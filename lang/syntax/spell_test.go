package syntax

import (
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestNearest(t *testing.T) {
	known := []string{"south", "east", "north", "west", "window.south", "größe", "wall", "walls"}
	for word, want := range map[string]string{
		"suoth": "south", "esat": "east", "nort": "north", "wset": "west", "window.suoth": "window.south", "windwo.south": "window.south", "window.mouse": "", "grösse": "größe",
		"wal": "wall", "wal1": "wall", "elsewhere": "", "x": "", "south": "", "": "",
		strings.Repeat("south", 20): "",
	} {
		near, ok := Nearest(word, known)
		assert.Equal(t, want, near, word)
		assert.Equal(t, want != "", ok, word)
	}
	near, _ := Nearest("ab", []string{"ac", "ad"})
	assert.Equal(t, "ac", near, "of two as near the first")
}

// plain counts edits by the textbook: optimal string alignment, all of the table.
func plain(a, b string) int {
	x, y := []rune(a), []rune(b)
	rows := make([][]int, len(x)+1)
	for i := range rows {
		rows[i] = make([]int, len(y)+1)
		for j := range rows[i] {
			switch {
			case i == 0 || j == 0:
				rows[i][j] = i + j
				continue
			case x[i-1] == y[j-1]:
				rows[i][j] = rows[i-1][j-1]
			default:
				rows[i][j] = rows[i-1][j-1] + 1
			}
			rows[i][j] = min(rows[i][j], rows[i-1][j]+1, rows[i][j-1]+1)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				rows[i][j] = min(rows[i][j], rows[i-2][j-2]+1)
			}
		}
	}
	return rows[len(x)][len(y)]
}

// The search passes over words at a glance and gives up early; what it finds
// is what looking at all of every word finds.
func TestNearestLeavesNothingOut(t *testing.T) {
	word := rapid.StringOfN(rapid.SampledFrom([]rune("abcdé")), 1, 9, -1)
	rapid.Check(t, func(t *rapid.T) {
		known, asked := rapid.SliceOfN(word, 0, 12).Draw(t, "known"), word.Draw(t, "word")
		limit := min(len([]rune(asked))/3+1, 3)
		want, least := "", limit+1
		for _, k := range known {
			if d := plain(asked, k); d < least {
				want, least = k, d
			}
		}
		if least == 0 {
			want = ""
		}
		near, _ := Nearest(asked, known)
		require.Equal(t, want, near)
	})
}

func TestKnownIsSafeForSeveral(t *testing.T) {
	known := NewKnown([]string{"south", "north"})
	var wg sync.WaitGroup
	for range 4 {
		wg.Go(func() {
			for _, word := range []string{"soth", "noth", "soth"} {
				near, ok := known.Nearest(word)
				assert.True(t, ok)
				assert.Contains(t, known.Words(), near)
			}
		})
	}
	wg.Wait()
}

func TestNamesAreWrittenAsTheyRead(t *testing.T) {
	for name, want := range map[string][2]string{ // as given, as referred to
		"wall":         {"wall", "wall"},
		"wrap":         {`"wrap"`, `"wrap"`},
		"+3V3":         {`"+3V3"`, `"+3V3"`},
		"window.south": {`"window.south"`, "window.south"},
		"board.width":  {`"board.width"`, "board.width"},
		"a..b":         {`"a..b"`, `"a..b"`},
		`a"b\`:         {`"a\"b\\"`, `"a\"b\\"`},
		"":             {`""`, `""`},
	} {
		assert.Equal(t, want[0], Quote(name))
		assert.Equal(t, want[1], Refer(name))
		assert.Equal(t, name, Unquote(Quote(name)))
		assert.Equal(t, name, Unquote(Refer(name)))
	}
}
