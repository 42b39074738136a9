package lsp

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestFilesInMessagesAreNamedAsTheTextNamesThem(t *testing.T) {
	doc := &document{path: filepath.FromSlash("/home/user/boards/broken/a.hem")}
	for message, want := range map[string]string{
		"limit x, /home/user/boards/broken/shop.hem:3":        "limit x, shop.hem:3",
		"limit x, /home/user/boards/broken/shops/shop.hem:3":  "limit x, shops/shop.hem:3",
		"limit x, /home/user/boards/shops/shop.hem:3":         "limit x, ../shops/shop.hem:3",
		"limit x, /home/user/shop.hem:3":                      "limit x, ../../shop.hem:3",
		"limit x, /srv/shop.hem:3":                            "limit x, /srv/shop.hem:3",
		"1 mm / 2 mm, /home/user/boards/broken/b.hem, no /x/": "1 mm / 2 mm, b.hem, no /x/",
	} {
		assert.Equal(t, want, doc.named(message))
	}
	assert.Equal(t, "/a/b", (&document{path: filepath.FromSlash("/c.hem")}).named("/a/b"), "the root is in every path")
	assert.Equal(t, "/a/b", new(document).named("/a/b"))
}
