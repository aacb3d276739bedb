package read

import (
	"bytes"
	"strings"
)

// source is the text of a file, kept for messages. first is the number of its first
// line: a piece cut out of a longer file keeps that file's numbers.
type source struct {
	name  string
	data  []byte
	first int
	start []int // offset of each line, made at the first use
}

// line returns the text of a line without its line end, "" outside the text.
func (s *source) line(number int) string {
	if s == nil {
		return ""
	}
	if s.start == nil {
		s.start = append(s.start, 0)
		for i, c := range s.data {
			if c == '\n' {
				s.start = append(s.start, i+1)
			}
		}
	}
	i := number - s.first
	if i < 0 || i >= len(s.start) {
		return ""
	}
	rest := s.data[s.start[i]:]
	if end := bytes.IndexByte(rest, '\n'); end >= 0 {
		rest = rest[:end]
	}
	return strings.TrimRight(string(rest), "\r")
}
