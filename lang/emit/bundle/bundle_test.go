package bundle

import (
	"archive/zip"
	"bytes"
	"errors"
	"io"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var pair = []File{{Name: "a.txt", Data: []byte("abc")}, {Name: "in/b.txt"}}

// FIPS 180-2, appendix B.1, from memory: the hash of "abc"; and that of nothing.
func TestHashes(t *testing.T) {
	assert.Equal(t, "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad", pair[0].Hash())
	assert.Equal(t, "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855", pair[1].Hash())
	m := Manifest(pair)
	list, ok := Hashes(m.Data)
	require.True(t, ok)
	assert.Equal(t, map[string]string{"a.txt": pair[0].Hash(), "in/b.txt": pair[1].Hash()}, list)
	for _, text := range []string{"", "nothing\n", "abc  a.txt\n"} {
		_, ok = Hashes([]byte(text))
		assert.False(t, ok, text)
	}
}

// An archiver and a checker that know nothing of hemline take both.
func TestOthersReadIt(t *testing.T) {
	for _, tool := range []string{"unzip", "sha256sum"} {
		if _, err := exec.LookPath(tool); err != nil {
			require.Empty(t, os.Getenv("HEMLINE_CI"), "%s is needed where HEMLINE_CI is set", tool)
			t.Skip(tool + " is not installed")
		}
	}
	var b bytes.Buffer
	require.NoError(t, Zip(&b, "set", append(pair, Manifest(pair)), time.Time{}))
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "set.zip"), b.Bytes(), 0o644))
	run := func(where, name string, args ...string) string {
		cmd := exec.Command(name, args...)
		cmd.Dir = where
		out, err := cmd.CombinedOutput()
		require.NoError(t, err, "%s", out)
		return string(out)
	}
	run(dir, "unzip", "-q", "set.zip")
	assert.Equal(t, "a.txt: OK\nin/b.txt: OK\n", run(filepath.Join(dir, "set"), "sha256sum", "-c", "--strict", ManifestName))
}

func TestTheSameBytesEveryTime(t *testing.T) {
	made := func(date time.Time) []byte {
		var b bytes.Buffer
		require.NoError(t, Zip(&b, "set", pair, date))
		return b.Bytes()
	}
	assert.Equal(t, made(time.Time{}), made(time.Time{}))
	day := time.Date(2026, 3, 4, 5, 6, 8, 0, time.FixedZone("", 3600))
	r, err := zip.NewReader(bytes.NewReader(made(day)), int64(len(made(day))))
	require.NoError(t, err)
	require.Len(t, r.File, 2)
	undated, err := zip.NewReader(bytes.NewReader(made(time.Time{})), int64(len(made(time.Time{}))))
	require.NoError(t, err)
	assert.Equal(t, "1980-01-01", undated.File[0].Modified.UTC().Format(time.DateOnly), "the earliest that the format holds")
	assert.Equal(t, "set/in/b.txt", r.File[1].Name)
	assert.True(t, day.Equal(r.File[0].Modified), "%s", r.File[0].Modified)
	f, err := r.File[0].Open()
	require.NoError(t, err)
	data, err := io.ReadAll(f)
	require.NoError(t, err)
	assert.Equal(t, "abc", string(data))
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("no space") }

func TestAFullDiskIsAnError(t *testing.T) {
	assert.ErrorContains(t, Zip(full{}, "set", pair, time.Time{}), "no space")
}

// A name that could lead out of the folder that a package unpacks to, or that
// another file has, is refused before anything is written.
func TestNamesThatWouldDoHarm(t *testing.T) {
	for _, name := range []string{"", ".", "../a", "a/../../b", "/a", "a//b", `a\b`, "c:a", "a/"} {
		var b bytes.Buffer
		assert.ErrorContains(t, Zip(&b, "set", []File{{Name: "ok"}, {Name: name}}, time.Time{}), "is no name for a file", name)
		assert.Zero(t, b.Len(), name)
	}
	assert.ErrorContains(t, Zip(io.Discard, "set", []File{{Name: "in/A.txt"}, {Name: "in/a.txt"}}, time.Time{}), `two files of the archive would be "in/a.txt"`)
	assert.Equal(t, []File{{Name: "x/a.txt", Data: []byte("abc")}, {Name: "x/in/b.txt"}}, Under("x", pair))
	assert.Equal(t, "a.txt", pair[0].Name)
}

// From where each text lies the path that names it still leads to the other.
func TestPlacesOfTexts(t *testing.T) {
	for _, c := range []struct{ paths, places, lost []string }{
		{[]string{"board.hem"}, []string{"board.hem"}, nil},
		{[]string{"board.hem", "shops/a.hem", "parts/b.hem"}, []string{"board.hem", "shops/a.hem", "parts/b.hem"}, nil},
		{[]string{"board.hem", "../shops/a.hem", "x.hem"}, []string{"folder/board.hem", "shops/a.hem", "folder/x.hem"}, nil},
		{[]string{"board.hem", "../../a.hem", "../folder/b.hem"}, []string{"folder_2/folder_2/board.hem", "a.hem", "folder_2/folder/b.hem"}, nil},
		{[]string{"board.hem", "/home/x/lib.hem", "/home/y/lib.hem"}, []string{"board.hem", "elsewhere/1/lib.hem", "elsewhere/2/lib.hem"}, []string{"/home/x/lib.hem", "/home/y/lib.hem"}},
		{[]string{"/tmp/board.hem"}, []string{"elsewhere/1/board.hem"}, []string{"/tmp/board.hem"}},
		{[]string{"board.hem", `..\..\evil.hem`, "c:x.hem", "a\nb.hem"}, []string{"board.hem", "elsewhere/1/evil.hem", "elsewhere/1/c_x.hem", "elsewhere/1/a_b.hem"}, []string{`..\..\evil.hem`, "c:x.hem", "a\nb.hem"}},
		{[]string{"board.hem", "a\u202Eb.hem"}, []string{"board.hem", "elsewhere/1/a_b.hem"}, []string{"a\u202Eb.hem"}},
		{[]string{"board.hem", "Board.hem"}, []string{"board.hem", "elsewhere/1/Board.hem"}, []string{"Board.hem"}},
		{[]string{"board.hem", "elsewhere/1/lib.hem", "/lib.hem", "/..."}, []string{"board.hem", "elsewhere/1/lib.hem", "elsewhere_2/1/lib.hem", "elsewhere_2/1/text"}, []string{"/lib.hem", "/..."}},
	} {
		places, found := Places(c.paths)
		assert.Equal(t, c.places, places)
		var lost []string
		for i, p := range c.paths {
			if !found[i] {
				lost = append(lost, p)
				continue
			}
			// As the language resolves it: from the folder of the file that names it.
			if found[0] {
				assert.Equal(t, places[i], path.Join(path.Dir(places[0]), p))
			}
		}
		assert.Equal(t, c.lost, lost, "%v", c.paths)
		var files []File
		for _, p := range places {
			files = append(files, File{Name: p})
		}
		assert.NoError(t, Zip(io.Discard, "set", files, time.Time{}))
	}
}

// Whatever the paths are, the places are sound, and no two are one.
func FuzzPlaces(f *testing.F) {
	f.Add("board.hem", "../a.hem", "/x/../b.hem")
	f.Add("board.hem", `..\a`, "folder/../../folder")
	f.Fuzz(func(t *testing.T, a, b, c string) {
		places, _ := Places([]string{a, b, c})
		var files []File
		for _, p := range places {
			files = append(files, File{Name: p})
		}
		if err := Zip(io.Discard, "set", Under("text", files), time.Time{}); err != nil {
			t.Fatalf("%q: %v: %s", []string{a, b, c}, places, err)
		}
	})
}
