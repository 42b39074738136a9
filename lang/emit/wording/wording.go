// Package wording writes lengths and names as drawings, notes and reports for a
// shop write them.
package wording

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"

	"hemline/lang/geom"
	"hemline/lang/source"
)

// Caution stands wherever the program tells what a shop, or somebody's safety,
// may come to depend on.
const Caution = "The fabricator's word, local codes and licensed practice come first; computed figures are bounds, not measurements."

// Millimetres writes a length in nm as mm, to the micrometre, without idle
// zeros and without its unit.
func Millimetres(nm float64) string { return decimal(math.Round(nm/1e3) / 1e3) }

// Micrometres writes a length in nm as thicknesses of copper are written, in
// µm to the hundredth, with its unit.
func Micrometres(nm float64) string { return decimal(math.Round(nm/10)/100) + " µm" }

// Milliohms writes a resistance in Ω as mΩ, to three digits, with its unit.
func Milliohms(ohm float64) string {
	s := fmt.Sprintf("%.3g", ohm*1000)
	if strings.Contains(s, "e") {
		s = fmt.Sprintf("%.0f", ohm*1000)
	}
	return s + " mΩ"
}

// Pair writes a point's coordinates in mm.
func Pair(p geom.Point) string { return Millimetres(p.X) + ", " + Millimetres(p.Y) }

// Plural is a count with its noun, which takes an s.
func Plural(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

// OneLine replaces line ends and tabs by spaces, and shows by their numbers the
// characters that nobody sees, which could command a terminal or turn a line.
func OneLine(s string) string { return source.Visible(spaced.Replace(s)) }

var spaced = strings.NewReplacer("\r\n", " ", "\n", " ", "\r", " ", "\t", " ")

var marks = strings.NewReplacer(`\`, `\\`, "*", `\*`, "`", "\\`", "<", `\<`, "[", `\[`, "|", `\|`, "#", `\#`, "&", `\&`, "~", `\~`)

// Markdown is a text on one line in which nothing is markup, in a table's cell
// neither.
func Markdown(s string) string {
	var b strings.Builder
	list := []rune(marks.Replace(OneLine(s)))
	word := func(i int) bool {
		return i >= 0 && i < len(list) && (unicode.IsLetter(list[i]) || unicode.IsDigit(list[i]))
	}
	for i, r := range list {
		if r == '_' && (!word(i-1) || !word(i+1)) { // within a word it is none
			b.WriteByte('\\')
		}
		b.WriteRune(r)
	}
	return b.String()
}

func decimal(v float64) string { return strconv.FormatFloat(v+0, 'f', -1, 64) }
