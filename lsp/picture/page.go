package picture

import (
	"bytes"
	"crypto/sha256"
	"embed"
	"encoding/base64"
	"html"

	"hemline/lang/emit/wording"
)

// The page is written in several files and served as one, so that it needs
// nothing but itself. Its scripts share one scope, in the order below.
//
//go:embed page
var files embed.FS

var scripts = []string{"units.js", "lib/lib.js", "patterns.js", "draw.js", "labels.js", "shapes.js", "cut.js", "build.js", "render.js", "solid.js", "view.js", "panel.js", "main.js"}

var document, policy = compose()

// compose puts the page together. The policy allows the page's own style and
// script by their hashes, talking to this server, and nothing else at all.
func compose() (page []byte, policy string) {
	style := read("page.css")
	var script []byte
	for _, name := range scripts {
		script = append(append(script, read(name)...), '\n')
	}
	page = read("page.html")
	page = bytes.Replace(page, []byte("/*caution*/"), []byte(html.EscapeString(wording.Caution)), 1)
	page = bytes.Replace(page, []byte("/*style*/"), style, 1)
	page = bytes.Replace(page, []byte("/*script*/"), script, 1)
	return page, "default-src 'none'; script-src " + hash(script) + "; style-src " + hash(style) +
		"; connect-src 'self'; img-src data:; base-uri 'none'; form-action 'none'; frame-ancestors 'none'" +
		"; require-trusted-types-for 'script'; trusted-types 'none'"
}

func read(name string) []byte {
	data, err := files.ReadFile("page/" + name)
	if err != nil {
		panic(err) // the program was built without its page
	}
	return data
}

func hash(text []byte) string {
	sum := sha256.Sum256(text)
	return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
}
