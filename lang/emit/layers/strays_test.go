package layers

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/lang"
	"hemline/lang/source"
)

// What Strays lists is what Build refuses a board for, whatever the openings are.
func TestStraysAreWhatBuildRefuses(t *testing.T) {
	refused, passed := 0, 0
	for seed := range uint64(400) {
		text := openings(rand.New(rand.NewPCG(seed, 20)))
		a := lang.Analyze(source.New("b.hem", text), nil, nil)
		require.Empty(t, a.Findings(), text)
		thin := usual
		thin.RouterBit = 0.05 * mm
		_, err := Build(a.Board(), thin)
		list := Strays(a.Board(), 0)
		require.Equal(t, err != nil, len(list) > 0, "%v, %v\n%s", err, list, text)
		if err == nil {
			passed++
			continue
		}
		refused++
		assert.Equal(t, err.Error(), list[0].String())
	}
	assert.GreaterOrEqual(t, refused, 60)
	assert.GreaterOrEqual(t, passed, 60)
}

// Openings that stray by less than counts each, and by more together, are named all.
func TestReliefsThatStrayTogether(t *testing.T) {
	text := `outline rectangle 60 mm by 40 mm
cutout c rectangle 10 mm by 0.499999 mm at (20 mm, 20 mm)
castellation a on c.south at 3 mm hole 0.4 mm land 0.6 mm by 0.6 mm
castellation b on c.south at 6 mm hole 0.4 mm land 0.6 mm by 0.6 mm
relief lid over a on top reach 0.7 mm
`
	one, both := read(t, text), read(t, text+"relief more over b on top reach 0.7 mm\n")
	assert.Empty(t, Strays(one, 0))
	list := Strays(both, 0)
	require.Len(t, list, 2)
	assert.Equal(t, [2]string{"lid", "more"}, [2]string{list[0].Relief.Name.Text, list[1].Relief.Name.Text})
	_, err := Build(both, usual)
	assert.ErrorContains(t, err, "relief lid: on the top face")
	both = read(t, strings.Replace(strings.ReplaceAll(text, " on top reach", " on top bottom reach"), "0.499999", "0.49", 1))
	assert.Len(t, Strays(both, 0), 2, "once for a face")
	copper := read(t, `outline rectangle 60 mm by 40 mm
cutout c rectangle 10 mm by 0.4 mm at (20 mm, 20 mm)
plating w { along c.south; net G; wrap top 0.5 mm; wrap bottom 0.5 mm; extend 0.5 mm }
`)
	assert.Len(t, Strays(copper, 0), 1, "once for all layers")
	third := read(t, text+"castellation d on c.south at 8 mm hole 0.4 mm land 1.2 mm by 0.6 mm\nrelief more over d on top reach 0.7 mm\n")
	list = Strays(third, 0)
	require.Len(t, list, 1, "the one that strays alone")
	assert.Equal(t, "more", list[0].Relief.Name.Text)
}

// openings is a board with a notch and three narrow openings, plated in part.
func openings(r *rand.Rand) string {
	mm := func(lo, hi float64) string { return fmt.Sprintf("%.3f mm", lo+(hi-lo)*r.Float64()) }
	wide, lean := 0.2+r.Float64(), 3*r.Float64()-1
	text := fmt.Sprintf(`outline {
  start (0 mm, 0 mm)
  line south to (60 mm, 0 mm)
  line east to (60 mm, 40 mm)
  line a to (30 mm, 40 mm)
  line b to (%.3f mm, 30 mm)
  line c to (%.3f mm, 30 mm)
  line d to (%.3f mm, 40 mm)
  line e to (0 mm, 40 mm)
  close west
}
`, 30-lean, 30-lean-wide, 30-wide)
	text += "cutout r rectangle 6 mm by " + mm(0.2, 1.2) + " at (10 mm, 10 mm)\n"
	text += "cutout s slot 6 mm by " + mm(0.2, 1.2) + " turned " + fmt.Sprint(r.IntN(180)) + " deg at (30 mm, 10 mm)\n"
	text += "cutout v { start (45 mm, 10 mm); line a to (51 mm, 10 mm); line b to (51 mm, " + mm(10.2, 18) + "); close c }\n"
	along := [...]string{"b", "d", "r.south", "r.north", "r.west", "s.rim from 0 mm to " + mm(0.1, 9), "v.a", "v.c", "south east"}
	wrap := func() string {
		return [...]string{"", "wrap top " + mm(0.1, 1), "wrap top " + mm(0.1, 1) + "; wrap bottom " + mm(0.1, 1)}[r.IntN(3)]
	}
	for k := range 1 + r.IntN(3) {
		text += fmt.Sprintf("plating p%d { along %s; net N%d; %s; extend %s }\n", k, along[r.IntN(len(along))], r.IntN(2), wrap(), mm(0, 0.9))
	}
	if r.IntN(3) == 0 {
		text += "relief lid over p0 on top bottom reach 1 mm margin " + mm(0, 1) + "\n"
	}
	if r.IntN(3) == 0 {
		text += "castellation half on r.south at middle hole 0.6 mm land 1 mm by 0.6 mm\nrelief over_half over half on top reach 0.7 mm\n"
	}
	return text
}
