package layout

import (
	_ "embed"
	"slices"
)

//go:embed schema/build.schema.json
var buildSchema string

// Schema returns the JSON Schema (draft 2020-12) of build files, for editors that
// complete and check while one types. It sees the form of a file; what its references
// and parts mean is told by [Load].
func Schema() []byte { return slices.Clone([]byte(buildSchema)) }
