package figures

import "testing"

// unraced leaves a test out that reckons one board after another, which takes ten
// times as long with the race detector; .ci/run runs it without.
func unraced(t *testing.T) {
	t.Helper()
	if raced {
		t.Skip("one board after another, which takes ten times as long with the race detector")
	}
}
