// Package measure writes lengths as drawings and notes for a shop write them.
package measure

import (
	"math"
	"strconv"

	"hemline/lang/geom"
)

// Millimetres writes a length in nm as mm, to the micrometre, without idle
// zeros and without its unit.
func Millimetres(nm float64) string { return decimal(math.Round(nm/1e3) / 1e3) }

// Micrometres writes a length in nm as thicknesses of copper are written, in
// µm to the hundredth, with its unit.
func Micrometres(nm float64) string { return decimal(math.Round(nm/10)/100) + " µm" }

// Pair writes a point's coordinates in mm.
func Pair(p geom.Point) string { return Millimetres(p.X) + ", " + Millimetres(p.Y) }

func decimal(v float64) string { return strconv.FormatFloat(v+0, 'f', -1, 64) }
