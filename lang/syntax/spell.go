package syntax

import (
	"math/bits"
	"slices"
	"strings"
	"sync"
	"unicode/utf8"
)

// maxSpelled is the longest word, in letters, for which a likely one is sought.
const maxSpelled = 64

// Known is a list of words in which the likely one is sought for a misspelt
// one. It is safe for use by several goroutines.
type Known struct {
	words []string
	seen  []trait
	mutex sync.Mutex
	found map[string]string // what earlier searches gave, "" for nothing
}

// trait is what tells most words apart at a glance: how long a word is and
// which letters it has.
type trait struct {
	length  int
	letters uint64
}

func traitOf(word string) trait {
	t := trait{}
	for _, r := range word {
		t.length++
		t.letters |= 1 << (r % 64)
	}
	return t
}

// NewKnown makes a list; of words equally likely the first is offered.
func NewKnown(words []string) *Known {
	k := &Known{words: words, seen: make([]trait, len(words)), found: map[string]string{}}
	for i, w := range words {
		k.seen[i] = traitOf(w)
	}
	return k
}

// Words are the words in the order they were given.
func (k *Known) Words() []string { return k.words }

// Nearest finds the known word that a misspelt one was likely meant to be:
// the one with the fewest letters changed, added, left out or swapped, if
// they are few for its length. What a name before a dot says right counts for
// nothing: window.south is not meant to be window.width.
func (k *Known) Nearest(word string) (string, bool) {
	k.mutex.Lock()
	defer k.mutex.Unlock()
	near, ok := k.found[word]
	if !ok {
		near = k.nearest(word)
		k.found[word] = near
	}
	return near, near != ""
}

func (k *Known) nearest(word string) string {
	if utf8.RuneCountInString(word) > maxSpelled {
		return ""
	}
	if i := slices.IndexFunc(k.words, func(w string) bool { return w != word && strings.EqualFold(w, word) }); i >= 0 && !slices.Contains(k.words, word) {
		return k.words[i] // mm for MM, GHz for ghz
	}
	t := traitOf(word)
	best, limit := "", mostEdits(t.length)
	for i, w := range k.words {
		// An edit makes the length differ by one at most, and the letters by two.
		seen := k.seen[i]
		if max(seen.length-t.length, t.length-seen.length) > limit || bits.OnesCount64(seen.letters^t.letters) > 2*limit {
			continue
		}
		if d := distance(word, w, limit); d == 0 {
			return "" // it is known; what was wrong with it is not its spelling
		} else if d <= limit && d <= mostEdits(utf8.RuneCountInString(unlike(word, w))) {
			best, limit = w, d-1
		}
	}
	return best
}

// mostEdits is how many edits may make one word of another, by its letters.
func mostEdits(letters int) int { return min(letters/3+1, 3) }

// unlike is what is left of a word after the names before dots with which
// another one starts too.
func unlike(word, other string) string {
	for {
		at := strings.IndexByte(word, '.') + 1
		if at == 0 || !strings.HasPrefix(other, word[:at]) {
			return word
		}
		word, other = word[at:], other[at:]
	}
}

// Nearest finds the likely one of a few words.
func Nearest(word string, known []string) (string, bool) {
	near := NewKnown(known).nearest(word)
	return near, near != ""
}

// distance counts edits between two words of at most maxSpelled letters
// (optimal string alignment), or anything above limit once it is certain to
// be more.
func distance(a, b string, limit int) int {
	var x, y [maxSpelled + 4]rune
	n, m := letters(a, x[:]), letters(b, y[:])
	var rows [3][maxSpelled + 5]int
	older, before, row := &rows[0], &rows[1], &rows[2]
	for j := range m + 1 {
		row[j] = j
	}
	for i := 1; i <= n; i++ {
		older, before, row = before, row, older
		row[0] = i
		least := i
		for j := 1; j <= m; j++ {
			cost := 1
			if x[i-1] == y[j-1] {
				cost = 0
			}
			row[j] = min(before[j]+1, row[j-1]+1, before[j-1]+cost)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				row[j] = min(row[j], older[j-2]+1)
			}
			least = min(least, row[j])
		}
		if least > limit+1 { // a swap may still take one back
			return limit + 1
		}
	}
	return row[m]
}

func letters(word string, into []rune) int {
	n := 0
	for _, r := range word {
		if n == len(into) {
			break
		}
		into[n] = r
		n++
	}
	return n
}

// Unlikeness is how many edits lie between two words; past 64 bytes the rest is not counted.
func Unlikeness(a, b string) int {
	cut := func(s string) string { return s[:min(len(s), maxSpelled)] }
	return distance(cut(a), cut(b), 2*maxSpelled)
}
