package drawing

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"path/filepath"
	"strings"
)

// The kinds of files that are read.
const (
	dxfFormat = "DXF"
	svgFormat = "SVG"
)

// sniff tells by its content what a file is; its name does not count. Files that hold no
// outline get one sentence that says what they are.
func sniff(name string, data []byte) (string, error) {
	no := func(what, todo string) (string, error) {
		return "", fault(name, 0, what, "a DXF or SVG file with the outline of a plate", todo)
	}
	head := bytes.TrimPrefix(data[:min(len(data), 4096)], []byte("\xef\xbb\xbf"))
	text := bytes.TrimLeft(head, " \t\r\n")
	lower := bytes.ToLower(text)
	has := func(s string) bool { return bytes.HasPrefix(lower, []byte(s)) }
	switch {
	case len(bytes.TrimSpace(data)) == 0:
		return no("the file is empty", "export or fetch it again")
	case bytes.Contains(head[:min(len(head), 32)], []byte(" Binary DXF\r\n\x1a\x00")):
		return no("this is a DXF file in binary form, which is not read", "save it as DXF in text (ASCII) form")
	case bytes.HasPrefix(head, []byte("AC10")) && bytes.IndexByte(head, 0) >= 0:
		return no("this is a drawing in a closed binary form", "save it as DXF in text (ASCII) form")
	case bytes.HasPrefix(head, []byte("PK\x03\x04")), bytes.HasPrefix(head, []byte("\x1f\x8b")):
		return no("this is a packed archive", "unpack it first")
	case has("%pdf"), has("%!ps"):
		return no("this is a page description (PDF or PostScript), not an outline", "export the drawing as DXF or SVG")
	case bytes.HasPrefix(head, []byte("\x89PNG")), bytes.HasPrefix(head, []byte("\xff\xd8\xff")), bytes.HasPrefix(head, []byte("GIF8")):
		return no("this is a picture made of dots, which has no outline", "export the drawing as DXF or SVG")
	case bytes.HasPrefix(head, []byte("\xff\xfe")), bytes.HasPrefix(head, []byte("\xfe\xff")):
		return no("the file is written in UTF-16", "save it as UTF-8 text")
	case isBinaryMesh(data):
		return no("this is a 3D mesh (STL), which has no outline", "export the flat face of the plate as DXF or SVG")
	case has("solid") && bytes.Contains(lower, []byte("facet")):
		return no("this is a 3D mesh (STL), which has no outline", "export the flat face of the plate as DXF or SVG")
	case isMeshText(text):
		return no("this is a 3D mesh (OBJ), which has no outline", "export the flat face of the plate as DXF or SVG")
	case has("ply\n"), has("ply\r"):
		return no("this is a 3D mesh (PLY), which has no outline", "export the flat face of the plate as DXF or SVG")
	case has("iso-10303-21"):
		return no("this is a 3D model (STEP)", "export the flat face of the plate as DXF or SVG")
	}
	if has("<") {
		whole := bytes.ToLower(data[:min(len(data), 64<<10)])
		switch {
		case has("<!doctype html"), has("<html"), bytes.Contains(lower, []byte("<html")):
			return no("this is a web page, not a drawing", "download the file itself, not the page that shows it")
		case bytes.Contains(whole, []byte("<svg")) || bytes.Contains(whole, []byte(":svg")):
			return svgFormat, nil
		}
		return no("this is an XML file that holds no SVG drawing", "export the outline as DXF or SVG")
	}
	// A DXF text begins with a group code, a whole number alone on its line.
	line, _, _ := bytes.Cut(text, []byte{'\n'})
	line, _, _ = bytes.Cut(line, []byte{'\r'})
	code := bytes.TrimSpace(line)
	if len(code) > 0 && len(code) <= 4 && len(bytes.Trim(code, "0123456789")) == 0 {
		return dxfFormat, nil
	}
	if ext := strings.ToLower(filepath.Ext(name)); ext == ".dxf" || ext == ".svg" {
		return no(fmt.Sprintf("its name ends in %s, but this is no %s file", ext, strings.ToUpper(ext[1:])), "export or fetch it again")
	}
	return no("this is neither a DXF nor an SVG file", "export the outline as DXF or SVG")
}

// isBinaryMesh tells a binary STL: 80 bytes, the number of facets, and 50 bytes for each.
func isBinaryMesh(data []byte) bool {
	if len(data) < 84 {
		return false
	}
	n := uint64(binary.LittleEndian.Uint32(data[80:84]))
	return n > 0 && uint64(len(data)) == 84+50*n && bytes.IndexByte(data[:min(len(data), 512)], 0) >= 0
}

// isMeshText tells an OBJ: lines of vertices and comments, the first of them a vertex.
func isMeshText(text []byte) bool {
	for _, line := range bytes.SplitN(text, []byte{'\n'}, 200) {
		f := bytes.Fields(line)
		if len(f) == 0 || f[0][0] == '#' {
			continue
		}
		switch string(f[0]) {
		case "mtllib", "o", "g", "usemtl", "s":
			continue
		case "v":
			return len(f) >= 4
		}
		return false
	}
	return false
}
