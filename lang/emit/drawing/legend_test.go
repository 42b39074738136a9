package drawing

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// The legend explains what is drawn, and nothing else.
func TestTheLegendHasWhatIsDrawn(t *testing.T) {
	const mask, wrap, plated = "solder mask opening past it", "copper on the face: wrap, land", "the edge alongside is plated"
	base := "outline rectangle 60 mm by 40 mm\n"
	plating := base + "plating p along west net GND wrap top bottom 1 mm\n"
	boxed := regexp.MustCompile(`^(tab|copper feature|pin)(, (copper feature|pin))*$|^connector(; depth not stated)?$`)
	for text, want := range map[string][]string{
		base:    nil,
		plating: {plated, wrap},
		plating + "relief r over p on top reach 2 mm margin 0.1 mm\n":                                              {plated, wrap, mask},
		base + "tab t on south at middle width 3 mm solid\n":                                                       {"tab"},
		base + "feature f on top rectangle 1 mm by 1 mm at (20 mm, 20 mm) net A\n":                                 {"copper feature"},
		base + "connector c on south at middle { body 6 mm reach 3 mm; pin top width 1 mm length 3 mm; net RF }\n": {"connector; depth not stated", "pin"},
	} {
		var got []string
		for line := range strings.Lines(words(drawn(t, read(t, text), Options{})[:1]) + "\n") {
			if line = strings.TrimSpace(line); line == mask || line == wrap || line == plated || boxed.MatchString(line) {
				got = append(got, line)
			}
		}
		assert.Equal(t, want, got, text)
	}
}

// A face that has a sheet of its own states its scale there.
func TestEachFaceStatesItsScale(t *testing.T) {
	sheets := drawn(t, read(t, "outline rectangle 240 mm by 150 mm\nplating p along all net GND wrap top bottom 1 mm\n"), Options{})
	assert.Equal(t, [2]string{"Top face", "Bottom face"}, [2]string{sheets[0].Title, sheets[1].Title})
	assert.Equal(t, "1:1", scaleOf(sheets[1]))
	assert.NotContains(t, scaleOf(sheets[2]), "1:1")
}
