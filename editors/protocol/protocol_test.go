// Package protocol holds the sessions of the protocol's own client library
// with the server.
package protocol

import (
	"os"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"hemline/editors/editortest"
)

func TestSessions(t *testing.T) {
	node := editortest.Tool(t, "node")
	if _, err := os.Stat("node_modules"); err != nil {
		editortest.Missing(t, "what npm ci installs")
	}
	output := editortest.Run(t, 2*time.Minute, []string{"HEMLINE=" + editortest.Program(t)}, node, "--test", "--test-reporter=tap")
	assert.Contains(t, output, "# fail 0")
	assert.NotContains(t, output, "# pass 0")
}
