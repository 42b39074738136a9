package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"time"

	"hemline/checks"
	"hemline/lang/emit/bundle"
	"hemline/lang/emit/layers"
)

type layersCommand struct {
	File string `arg:"" help:"The board."`
	Out  string `short:"o" required:"" placeholder:"FOLDER" help:"The folder to write; one that holds anything else is never touched."`
	Date string `help:"The creation date that the files carry, as 2026-11-25; without it SOURCE_DATE_EPOCH, else none."`
	placeFlags
}

// placeFlags say how layers lie to the artwork.
type placeFlags struct {
	Origin *string `placeholder:"X,Y" help:"The point of the text that is (0, 0) of the layers' files, as 10mm,5mm; without it the text's own origin."`
	Same   *string `placeholder:"IDENT" help:"What the artwork's files carry in .SameCoordinates, letter for letter: the layers' files then say that they lie as those do. Without it they say so of each other alone."`
}

// place is what the flags say.
func (f placeFlags) place() (p layers.Place, err error) {
	if f.Origin != nil {
		if p.Origin, err = layers.ParseOrigin(*f.Origin); err != nil {
			return p, err
		}
	}
	if f.Same != nil {
		p.Same, err = *f.Same, layers.CheckSame(*f.Same)
	}
	return p, err
}

// Help is shown under `hemline layers --help`.
func (layersCommand) Help() string {
	return `Writes what a spec adds to a board's artwork, in open formats: Gerber X2 for the
profile, the copper to add at the edge of each layer, the area to keep free of
copper, the mask openings; numerical control for the two routs and the drills.
The same board gives the same bytes. A README.txt says what each file holds, where
its coordinates count from, and step by step how it is put into the artwork.

Examples:
  hemline layers board.hem -o board-layers
  hemline layers board.hem -o board-layers --date 2026-11-25
  hemline layers board.hem -o board-layers --origin=-20mm,15mm --same 6f1c

Exit codes: 0 written whatever findings stand, 1 the text cannot be read in full and nothing was written, 2 could not run.`
}

// Run writes the folder.
func (c layersCommand) Run(s *streams) error {
	created, err := creation(c.Date)
	if err != nil {
		return err
	}
	place, err := c.place()
	if err != nil {
		return err
	}
	r := checkFile(c.File, s.today())
	if err := r.inFull(s); err != nil {
		return err
	}
	files, err := layerFiles(r, created, place)
	if err != nil {
		return err
	}
	files = append(files, bundle.Manifest(files))
	if err := whole(func() error { return writeFolder(c.Out, files) }); err != nil {
		return err
	}
	r.stands(s, "the files are written all the same")
	return s.say("%s: %d files", c.Out, len(files))
}

// layerFiles are the layers of a board, with the limits of its fabricator.
func layerFiles(r result, created time.Time, place layers.Place) ([]bundle.File, error) {
	o := checks.LimitsFor(r.analysis).ForLayers()
	o.Version, o.Created, o.Place = release(), created, place
	files, err := layers.Build(r.analysis.Board(), o)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", r.path, err)
	}
	return files, nil
}

// creation is the date that files carry: the one asked for, or that of
// SOURCE_DATE_EPOCH; zero for none.
func creation(asked string) (time.Time, error) {
	if asked != "" {
		return layers.ParseDate(asked)
	}
	epoch := os.Getenv("SOURCE_DATE_EPOCH")
	if epoch == "" {
		return time.Time{}, nil
	}
	seconds, err := strconv.ParseInt(epoch, 10, 64)
	if err != nil {
		return time.Time{}, fmt.Errorf("SOURCE_DATE_EPOCH is %q; expected a number of seconds", epoch)
	}
	return time.Unix(seconds, 0).UTC(), nil
}

// writeFolder puts a folder in place whole or not at all. One that is there is
// replaced if all that it holds was written by this command and is as it was
// written, and else left alone. A link to a folder stays a link.
func writeFolder(path string, files []bundle.File) (err error) {
	if path, err = leadsTo(filepath.Clean(path)); err != nil {
		return err
	}
	if base := filepath.Base(path); base == "." || base == ".." || base == string(filepath.Separator) {
		return fmt.Errorf("%s: expected the name of a folder of its own, such as board-layers", path)
	}
	there, err := ours(path)
	if err != nil {
		return err
	}
	fresh := filepath.Join(filepath.Dir(path), fmt.Sprintf(".hemline-layers-%x", rand.Uint64()))
	if err := os.Mkdir(fresh, 0o777); err != nil {
		return fmt.Errorf("%s: %w", path, cause(err))
	}
	defer os.RemoveAll(fresh) // gone by then where all went well
	for _, f := range files {
		if err := os.WriteFile(filepath.Join(fresh, f.Name), f.Data, 0o666); err != nil {
			return fmt.Errorf("%s: %s: %w", path, f.Name, cause(err))
		}
	}
	if there == nil {
		return move(fresh, path)
	}
	if err := likeness(fresh, there); err != nil {
		return fmt.Errorf("%s: its owner and mode cannot be kept: %w; nothing was touched", path, cause(err))
	}
	old := fresh + "-old"
	if err := move(path, old); err != nil {
		return err
	}
	if err := move(fresh, path); err != nil {
		return errors.Join(err, move(old, path))
	}
	return os.RemoveAll(old)
}

func move(from, to string) error {
	if err := os.Rename(from, to); err != nil {
		return fmt.Errorf("%s: %w", to, cause(err))
	}
	return nil
}

// ours is a folder that is there, nil for none. It refuses one that holds anything
// but what its readme and its manifest say that hemline has written.
func ours(path string) (there fs.FileInfo, err error) {
	entries, err := os.ReadDir(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err == nil {
		there, err = os.Stat(path)
	}
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, cause(err))
	}
	readme, _ := os.ReadFile(filepath.Join(path, layers.ReadmeName)) // without one nothing is known
	manifest, _ := os.ReadFile(filepath.Join(path, bundle.ManifestName))
	hashes, ok := bundle.Hashes(manifest)
	if !ok || !bytes.HasPrefix(readme, []byte(layers.ReadmeMark)) {
		hashes = nil
	}
	for _, e := range entries {
		if hashes != nil && e.Name() == bundle.ManifestName {
			continue
		}
		hash, known := hashes[e.Name()]
		if !known {
			return nil, fmt.Errorf("%s holds %s, which hemline has not written; nothing was touched, choose another folder", path, e.Name())
		}
		data, err := os.ReadFile(filepath.Join(path, e.Name()))
		if err != nil || !e.Type().IsRegular() || (bundle.File{Data: data}).Hash() != hash {
			return nil, fmt.Errorf("%s holds %s, which was changed since hemline wrote it; nothing was touched, choose another folder", path, e.Name())
		}
	}
	return there, nil
}
