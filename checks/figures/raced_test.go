//go:build race

package figures

const raced = true
