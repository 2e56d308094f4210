package report

import (
	"bytes"
	_ "embed"
)

//go:embed schema.json
var schema []byte

// Schema is the JSON Schema (draft 2020-12) of what JSON writes.
func Schema() []byte { return bytes.Clone(schema) }
