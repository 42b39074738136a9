package drawing

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"hemline/lang/emit/bundle"
	"hemline/lang/emit/scene"
)

func TestTheCoverSaysWhatThePackageIs(t *testing.T) {
	b := example(t, "receiver")
	s := scene.Build(b, 0)
	p := Package{Date: time.Date(2026, 3, 4, 0, 0, 0, 0, time.UTC), Limits: "of fabricator standard", Queries: "3 answered, 1 open, 0 left to the shop", Open: []string{"Which class?"}, Left: []string{"Where may tabs hold the board? its usual frame"},
		Files: []bundle.File{{Name: "layers/copper_L2_a_long_name_of_a_layer_free.gbr", About: "area of layer 2 to keep free of copper", Data: []byte("abc")}}}
	sheets := Cover(b, s, p)
	liesFree(t, "cover", sheets)
	said := words(sheets)
	for _, want := range []string{
		"Fabrication package\nSlope radar, receiver\nslope_receiver\nRevision B\nNo finding stands against the board.\nLimits: of fabricator standard.\n",
		"Questions that a shop would ask: 3 answered, 1 open, 0 left to the shop.", "Open questions\n1\nWhich class?\n", "Left to the shop\n1\nWhere may tabs hold the board? its usual frame\n",
		// FIPS 180-2, appendix B.1, from memory: the hash of "abc".
		"ba7816bf8f01cfea414140de5dae2223\nb00361a396177a9cb410ff61f20015ad\n",
		"The fabricator's word, local codes and licensed practice come first; computed figures are bounds,\nnot measurements.", "2026-03-04", "Cover of a package", "\nScale\n–\nProjection\n–\n",
	} {
		assert.Contains(t, said, want)
	}
	assert.NotContains(t, said, "Packed with")

	p.Findings = []Finding{{Category: "risky", Rule: "tab_count", Message: "too few tabs", Where: "line 3"}}
	sheets = Cover(b, s, p)
	liesFree(t, "cover", sheets)
	said = strings.ReplaceAll(words(sheets), "\n", " ")
	assert.Contains(t, said, "Packed with 1 finding unresolved, listed below. Clear it with the designer before anything is built.")
	assert.Contains(t, said, "1 risky, tab_count (line 3): too few tabs")
	assert.NotContains(t, said, "No finding stands")
	assert.NotContains(t, said, "finding accepted")
	assert.NotContains(t, said, "verified")

	// What is agreed, and what nothing has been held against, is no silence.
	p.Findings = nil
	p.NotVerified = []string{"current 40 A: the board states no rise of temperature for it"}
	p.Accepted = []Accepted{{Finding{Category: "costly", Rule: "tab_missing", Message: "no tab", Where: "line 4"}, "the shop's own", "2027-06-30"},
		{Finding{Category: "risky", Rule: "tab_count", Message: "too few tabs", Where: "line 3"}, "agreed", ""}}
	sheets = Cover(b, s, p)
	liesFree(t, "cover", sheets)
	said = strings.ReplaceAll(words(sheets), "\n", " ")
	for _, want := range []string{
		"No finding stands against the board. 1 request of the board could not be verified, listed below. 2 findings accepted, listed below with the reasons.",
		"Asked and not verified 1 current 40 A: the board states no rise of temperature for it",
		"Accepted findings 1 costly, tab_missing (line 4): no tab. Accepted, until 2027-06-30 because: the shop's own 2 risky, tab_count (line 3): too few tabs. Accepted because: agreed",
	} {
		assert.Contains(t, said, want)
	}
}

// The title block says what the text states of the drawing, and what stands
// against the board whatever the text says of itself.
func TestTheTitleBlockSaysWhatTheTextStates(t *testing.T) {
	b := read(t, `board b { number "H-1207"; owner "Tideworks"; author "radar group"; approver "a lead"; date "2026-11-20"; status "released" }`+"\noutline rectangle 60 mm by 40 mm")
	said := words(Cover(b, scene.Build(b, 0), Package{}))
	for _, want := range []string{"Legal owner\nTideworks\n", "Created by\nradar group\n", "Approved by\na lead\n", "Identification number\nH-1207\n", "Date of issue\n2026-11-20\n", "Document status\nreleased\n"} {
		assert.Contains(t, said, want)
	}
	p := Package{Date: time.Date(2026, 12, 1, 0, 0, 0, 0, time.UTC), Findings: []Finding{{Category: "risky", Rule: "tab_count", Message: "too few", Where: "line 3"}}}
	said = words(Cover(b, scene.Build(b, 0), p))
	assert.Contains(t, said, "Date of issue\n2026-12-01\n")
	assert.Contains(t, said, "Document status\nreleased\nCheck\n1 finding stands, 0 accepted\n")
}

// However much there is to list, it flows over pages.
func TestALongCover(t *testing.T) {
	b := read(t, `board "a name" { title "`+strings.Repeat("A long title of a board ", 12)+`"; revision "9" }`+"\noutline rectangle 60 mm by 40 mm")
	p := Package{Limits: "built in"}
	for i := range 80 {
		p.Files = append(p.Files, bundle.File{Name: fmt.Sprintf("layers/file_%d.gbr", i), About: strings.Repeat("what it holds ", 8), Data: fmt.Append(nil, i)})
		p.Open = append(p.Open, fmt.Sprintf("Question %d?", i))
	}
	sheets := Cover(b, scene.Build(b, 0), p)
	assert.Greater(t, len(sheets), 3)
	liesFree(t, "long cover", sheets)
	said := words(sheets)
	for i := range 80 {
		assert.Contains(t, said, fmt.Sprintf("layers/file_%d.gbr", i))
		assert.Contains(t, said, fmt.Sprintf("Question %d?", i))
	}
}
