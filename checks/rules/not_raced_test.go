//go:build !race

package rules

const raced = false
