package source

// Common counts what two versions of a list share at the front and, beyond
// that, at the back.
func Common[T comparable](old, now []T) (front, back int) {
	n := min(len(old), len(now))
	for front < n && old[front] == now[front] {
		front++
	}
	for back < n-front && old[len(old)-1-back] == now[len(now)-1-back] {
		back++
	}
	return front, back
}
