package source_test

import (
	"encoding/json"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"hemline/lang/source"
)

func TestHiddenCharactersAreShownByTheirNumbers(t *testing.T) {
	for text, want := range map[string]string{
		"plain\ttext\r\nµ 🛠 漢":                     "plain\ttext\r\nµ 🛠 漢",
		"a\u202Eb":                                 `a\u{202E}b`,
		"\u2066a\u2069":                            `\u{2066}a\u{2069}`,
		"a\u200Bb\u2060\u00AD":                     `a\u{200B}b\u{2060}\u{00AD}`,
		"\x1b[31m\x00\x7f\u0085":                   `\u{001B}[31m\u{0000}\u{007F}\u{0085}`,
		"a\u2028b\u2029":                           `a\u{2028}b\u{2029}`,
		"\uFEFFa\uFEFF":                            `\u{FEFF}a\u{FEFF}`,
		"a\u200Db":                                 `a\u{200D}b`,
		"👩\u200D🔧 نامه\u200Cای":                    "👩\u200D🔧 نامه\u200Cای", // joiners where a picture and a script need them
		"µ\u200D\u202E":                            `µ\u{200D}\u{202E}`,
		"🔧\u200D":                                  `🔧\u{200D}`,
		"a\u3164\u115F\u1160\uFFA0b":               `a\u{3164}\u{115F}\u{1160}\u{FFA0}b`, // fillers of Hangul
		"a\u2800\u034F":                            `a\u{2800}\u{034F}`,
		"a\u180B\u180C\u180D\u180F":                `a\u{180B}\u{180C}\u{180D}\u{180F}`,
		"a\uFE00\uFE0F1\uFE0F\U000E0100\U000E01EF": `a\u{FE00}\u{FE0F}1\u{FE0F}\u{E0100}\u{E01EF}`,
		"µ\uFE0F":                                  `µ\u{FE0F}`,
		"🛠\uFE0F\uFE0F":                            "🛠\uFE0F\\u{FE0F}", // one selects, the other hides
		"❤\uFE0F\u200D🔥 ☎\uFE0E ‼\uFE0F 1\uFE0F\u20E3 ↔\uFE0F": "❤\uFE0F\u200D🔥 ☎\uFE0E ‼\uFE0F 1\uFE0F\u20E3 ↔\uFE0F",
		"葛\U000E0100 ᠠ\u180B 漢\uFE00":                          "葛\U000E0100 ᠠ\u180B 漢\uFE00",
		"\u0600":                                               "\u0600", // a sign of its category that is seen
		"\U000E0041":                                           `\u{E0041}`,
		"\u200E\u200F\u061C":                                   `\u{200E}\u{200F}\u{061C}`,
		"caf\xe9":                                              "caf\xe9", // no UTF-8: told otherwise
	} {
		assert.Equal(t, want, source.Visible(text), "%q", text)
	}
	assert.Empty(t, source.Hidden("\uFEFFhem 1\n", 0, 8), "a byte order mark at the start belongs to the file")
}

// JSON with escapes says what it said without.
func TestVisibleJSONSaysTheSame(t *testing.T) {
	text := "a\u202Eb\U000E0041 µ \u2028"
	var b strings.Builder
	e := json.NewEncoder(&b)
	require.NoError(t, e.Encode(map[string]string{text: text}))
	data := source.VisibleJSON([]byte(b.String()))
	var got map[string]string
	require.NoError(t, json.Unmarshal(data, &got))
	assert.Equal(t, map[string]string{text: text}, got)
	assert.Empty(t, source.Hidden(string(data), 0, len(data)))
	assert.Contains(t, string(data), "µ")
}

func FuzzVisible(f *testing.F) {
	f.Add("a\u202Eb")
	f.Fuzz(func(t *testing.T, text string) {
		shown := source.Visible(text)
		if shown != source.Visible(shown) {
			t.Fatalf("%q: shown as %q, and that as %q", text, shown, source.Visible(shown))
		}
		if utf8.ValidString(text) && !utf8.ValidString(shown) {
			t.Fatalf("%q: %q", text, shown)
		}
	})
}

func BenchmarkHidden(b *testing.B) {
	text := strings.Repeat("plating wall { along south; net GND; wrap top 0.8 mm } // what holds\n", 1000)
	b.SetBytes(int64(len(text)))
	for b.Loop() {
		source.Hidden(text, 0, len(text))
	}
}
