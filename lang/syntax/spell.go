package syntax

// Nearest finds the known word that a misspelt one was likely meant to be:
// the one with the fewest letters changed, added, left out or swapped, if
// they are few for its length.
func Nearest(word string, known []string) (string, bool) {
	best, least := "", len([]rune(word))/3+1
	if least > 3 {
		least = 3
	}
	for _, k := range known {
		if d := distance(word, k, least); d <= least && (best == "" || d < distance(word, best, least)) {
			best = k
		}
	}
	return best, best != "" && best != word
}

// distance counts edits between two words (optimal string alignment), or
// anything above limit once it is certain to be more.
func distance(a, b string, limit int) int {
	x, y := []rune(a), []rune(b)
	if len(x)-len(y) > limit || len(y)-len(x) > limit || len(x) > 64 || len(y) > 64 {
		return limit + 1
	}
	before, row := make([]int, len(y)+1), make([]int, len(y)+1)
	for j := range row {
		row[j] = j
	}
	var older []int
	for i := 1; i <= len(x); i++ {
		older, before, row = before, row, make([]int, len(y)+1)
		row[0] = i
		for j := 1; j <= len(y); j++ {
			cost := 1
			if x[i-1] == y[j-1] {
				cost = 0
			}
			row[j] = min(before[j]+1, row[j-1]+1, before[j-1]+cost)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				row[j] = min(row[j], older[j-2]+1)
			}
		}
	}
	return row[len(y)]
}
