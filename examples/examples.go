// Package examples holds builds that a newcomer can run, each in a folder of its own
// with the report and the drawings that it gives.
package examples

import "embed"

// Files holds the build files of all examples, "riverbank/riverbank.yaml" and so on, and the
// drawings that they take outlines from.
//
//go:embed */*.yaml */*.dxf
var Files embed.FS

// Default is the example that the command judges when it is given no file.
const Default = "riverbank/riverbank.yaml"
