// Package job writes the Gerber job file of a board: what the board is, its
// stack, and what each layer file holds, in JSON.
//
// Source: the Gerber job file format as Ucamco publishes it, from memory; the
// text could not be read here. Of its sections these are written: Header,
// GeneralSpecs, MaterialStackup, FilesAttributes; of their keys those alone that
// the text states or that follow from it. Sizes are in mm.
//
// A layer file is listed with the function that it has in itself. Copper and
// mask files are of function Other there: they hold what is added to the
// artwork, kept free or opened, and are no whole layers.
package job

import (
	"encoding/json"
	"math"
	"path"
	"time"

	"hemline/lang/board"
	"hemline/lang/emit/bundle"
	"hemline/lang/emit/layers"
	"hemline/lang/quantity"
	"hemline/lang/source"
)

// Suffix is that of the format.
const Suffix = ".gbrjob"

// Options are what the file says beside the board.
type Options struct {
	Version string // of hemline
	Created time.Time
	Files   []bundle.File // their names as paths from the job file; those without a suffix .gbr are passed over
}

// Job is the file's content, its keys as the format has them.
type Job struct {
	Header   Header
	Specs    Specs   `json:"GeneralSpecs"`
	Material []Layer `json:"MaterialStackup,omitempty"`
	Files    []File  `json:"FilesAttributes"`
}

// Header is what wrote the file, and when.
type Header struct {
	Software Software `json:"GenerationSoftware"`
	Created  string   `json:"CreationDate,omitempty"`
}

// Software is what wrote the file.
type Software struct{ Vendor, Application, Version string }

// Specs are the board as a whole.
type Specs struct {
	Project    Project `json:"ProjectId"`
	Size       Size
	Layers     int      `json:"LayerNumber"`
	Thickness  *float64 `json:"BoardThickness,omitempty"`
	Finish     string   `json:",omitempty"`
	Controlled *bool    `json:"ImpedanceControlled,omitempty"`
	// Castellated tells that there are half holes, EdgePlating that the outline is
	// plated anywhere.
	Castellated, EdgePlating bool
}

// Project is the layer files' .ProjectId.
type Project struct{ Name, GUID, Revision string }

// Size is the box round the outline, mm.
type Size struct{ X, Y float64 }

// Layer is one of the stack, top first.
type Layer struct {
	Type         string   // Copper or Dielectric
	Thickness    *float64 `json:",omitempty"` // mm
	Name         string
	Material     string   `json:",omitempty"`
	Permittivity *float64 `json:"DielectricConstant,omitempty"`
	Loss         *float64 `json:"LossTangent,omitempty"`
}

// File is a layer file, its function as it says itself.
type File struct{ Path, FileFunction, FilePolarity string }

// Make makes the job of a board that has an outline.
func Make(b *board.Board, o Options) *Job {
	p := layers.ProjectOf(b)
	box := b.Outline().Path.Box()
	j := &Job{Header: Header{Software: Software{"hemline", "hemline", o.Version}}, Files: []File{},
		Specs: Specs{Project: Project{p.Name, p.ID, p.Revision}, Size: Size{mm(box.Max.X - box.Min.X), mm(box.Max.Y - box.Min.Y)}, Layers: len(b.Layers()),
			Castellated: len(b.Castellations()) > 0, EdgePlating: len(b.Finished(b.Outline()).Plated) > 0}}
	if !o.Created.IsZero() {
		j.Header.Created = o.Created.UTC().Format(layers.DateLayout)
	}
	if t, ok := b.Thickness(); ok {
		j.Specs.Thickness = new(mm(t.Value))
	}
	if i := b.Info(); i != nil {
		if i.Finish.Answers() {
			j.Specs.Finish = i.Finish.Text
		}
		if i.Impedance.Answers() {
			j.Specs.Controlled = new(!i.Impedance.Is("none"))
		}
	}
	for _, l := range b.Stack().Layered() {
		x := Layer{Type: "Dielectric", Name: l.Name.Text, Thickness: stated(l.Thickness, mm), Permittivity: stated(l.Permittivity, itself), Loss: stated(l.Loss, itself)}
		if l.Copper {
			x.Type = "Copper"
		}
		if l.Material.Answers() {
			x.Material = l.Material.Text
		}
		j.Material = append(j.Material, x)
	}
	for _, f := range o.Files {
		if path.Ext(f.Name) == ".gbr" {
			j.Files = append(j.Files, File{f.Name, f.Function, layers.Polarity})
		}
	}
	return j
}

// JSON writes the job, indented, with an end of line.
func (j *Job) JSON() ([]byte, error) {
	data, err := json.MarshalIndent(j, "", "  ")
	return append(source.VisibleJSON(data), '\n'), err
}

func mm(nm float64) float64 { return math.Round(nm) / quantity.NmPerMillimetre }

func itself(v float64) float64 { return v }

func stated(v board.Value, as func(float64) float64) *float64 {
	if !v.Given() {
		return nil
	}
	return new(as(v.Value))
}
