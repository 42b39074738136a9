package figures_test

import (
	"os"
	"testing"

	"hemline/checks/figures"
	"hemline/lang"
	"hemline/lang/source"
)

// What a keystroke costs that touches a plane, a wall or a fence.
func BenchmarkCavities(b *testing.B) {
	for _, name := range []string{"receiver", "front_end", "radio_tile"} {
		data, err := os.ReadFile("../../examples/" + name + ".hem")
		if err != nil {
			b.Fatal(err)
		}
		a := lang.Analyze(source.New("../../examples/"+name+".hem", string(data)), source.Read, nil)
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				figures.Cavities(a.Board())
			}
		})
	}
}
