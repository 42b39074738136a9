package layers

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"hemline/lang"
	"hemline/lang/board"
	"hemline/lang/copper"
	"hemline/lang/emit/bundle"
	"hemline/lang/source"
)

// usual are limits near the built-in ones, no two alike, and a version that no
// release has.
var usual = Options{Version: "0.0.0",
	Room:   copper.Room{Copper: by(0.2), EdgeOuter: by(0.25), EdgeInner: by(0.4), Wrap: by(0.3), WallInner: by(0.5)},
	TabGap: 0.6 * mm, RouterBit: 0.8 * mm}

// by is a distance in mm.
func by(d float64) copper.Distance { return copper.Distance{By: d * mm} }

func read(t testing.TB, text string) *board.Board {
	t.Helper()
	a := lang.Analyze(source.New("b.hem", text), nil, nil)
	require.Empty(t, a.Findings())
	return a.Board()
}

func example(t testing.TB, name string) *board.Board {
	t.Helper()
	f, err := source.Read("../../../examples/" + name + ".hem")
	require.NoError(t, err)
	return lang.Analyze(f, source.Read, nil).Board()
}

// write puts files into a folder of the test's.
func write(t testing.TB, files []bundle.File) string {
	t.Helper()
	dir := t.TempDir()
	for _, f := range files {
		require.NoError(t, os.WriteFile(filepath.Join(dir, f.Name), f.Data, 0o644))
	}
	return dir
}
