package report

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"text/tabwriter"

	"dryfit/layout"
)

// HardwareText writes the list of screws, nuts, washers, posts, spacers and grommets for
// people: what to buy, how it is tightened, and where each goes.
func HardwareText(w io.Writer, asm *layout.Assembly) error {
	lines := asm.Hardware()
	var b strings.Builder
	if len(lines) == 0 {
		fmt.Fprintf(&b, "%s: nothing holds it together that a list could name\n", asm.Name)
		_, err := io.WriteString(w, b.String())
		return err
	}
	need, buy, mass := 0, 0, 0.0
	for i := range lines {
		l := &lines[i]
		need += l.Count
		buy += l.Count + l.Spares
		mass += float64(l.Count) * l.MassEach
	}
	fmt.Fprintf(&b, "%s: %d pieces of hardware, %s g; %d with spares (a tenth, at least two of each)\n\n", asm.Name, need, oneDecimal(mass), buy)
	t := tabwriter.NewWriter(&b, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "need\tspare\twhat\tmaterial\teach g\tkey\tmax N·m\tlock")
	for i := range lines {
		l := &lines[i]
		what := l.Label()
		if l.Part != "" {
			what += " (" + l.Part + ")"
		}
		if !l.Sure {
			what += " !"
		}
		lock := l.Lock
		if l.Mixed() {
			lock = "by its place, see below"
		}
		fmt.Fprintf(t, "%d\t%d\t%s\t%s\t%s\t%s\t%s\t%s\n", l.Count, l.Spares, what, dash(l.Material), figureOr(l.MassEach), dash(l.Key), figureOr(l.Torque), dash(lock))
	}
	t.Flush()
	fmt.Fprint(&b, "\nwhere they go\n")
	for i := range lines {
		l := &lines[i]
		var uses []string
		for _, u := range l.Uses {
			use := fmt.Sprintf("%d %s", u.Count, u.Where)
			if l.Mixed() {
				use += " (" + u.Lock + ")"
			}
			uses = append(uses, use)
		}
		text := strings.Join(uses, ", ")
		if l.Note != "" {
			text += "; " + l.Note
		}
		b.WriteString(Wrap("  "+l.Label()+": ", "      ", text, 96) + "\n")
	}
	unsure := false
	for i := range lines {
		unsure = unsure || !lines[i].Sure
	}
	if unsure {
		b.WriteString("\n! is not sure to be right at worst case: `dryfit check` says by how much, and what would be\n")
	}
	b.WriteString("\nTorques are the most for the weaker material, not what to aim for. Meter every motor screw to a\nphase lead before power. Threadlocker only where metal meets metal.\n")
	_, err := io.WriteString(w, trimLines(b.String()))
	return err
}

// trimLines takes blanks off the ends of lines.
func trimLines(s string) string {
	lines := strings.Split(s, "\n")
	for i := range lines {
		lines[i] = strings.TrimRight(lines[i], " ")
	}
	return strings.Join(lines, "\n")
}

func dash(s string) string {
	if s == "" {
		return "–"
	}
	return s
}

func figureOr(v float64) string {
	if v <= 0 {
		return "–"
	}
	return strconv.FormatFloat(math.Round(v*100)/100, 'f', -1, 64)
}

func oneDecimal(v float64) string { return strconv.FormatFloat(v, 'f', 1, 64) }

// HardwareCSV writes the list as comma-separated values (RFC 4180), one line a kind of
// piece under a line of headings.
func HardwareCSV(w io.Writer, asm *layout.Assembly) error {
	c := csv.NewWriter(w)
	rows := [][]string{{"kind", "thread", "length mm", "head", "material", "part", "count", "spares", "mass each g", "key", "torque at most N m", "lock", "sure", "where", "note"}}
	lines := asm.Hardware()
	for i := range lines {
		l := &lines[i]
		var uses []string
		for _, u := range l.Uses {
			uses = append(uses, fmt.Sprintf("%s x%d", u.Where, u.Count))
		}
		rows = append(rows, []string{
			string(l.Kind), l.Thread, blankZero(l.Length), l.Head, l.Material, l.Part, strconv.Itoa(l.Count), strconv.Itoa(l.Spares),
			blankZero(l.MassEach), l.Key, blankZero(l.Torque), l.Lock, strconv.FormatBool(l.Sure), strings.Join(uses, "; "), l.Note,
		})
	}
	if err := c.WriteAll(rows); err != nil {
		return err
	}
	c.Flush()
	return c.Error()
}

func blankZero(v float64) string {
	if v <= 0 {
		return ""
	}
	return strconv.FormatFloat(math.Round(v*1000)/1000, 'f', -1, 64)
}

type jsonHardware struct {
	Dryfit int             `json:"dryfit"`
	Name   string          `json:"name"`
	Lines  []jsonHardLine  `json:"hardware"`
	Joints []jsonHardJoint `json:"joints"`
}

type jsonHardLine struct {
	Kind     string    `json:"kind"`
	Thread   string    `json:"thread"`
	Length   float64   `json:"length,omitempty"`
	Head     string    `json:"head,omitempty"`
	Material string    `json:"material,omitempty"`
	Part     string    `json:"part,omitempty"`
	Count    int       `json:"count"`
	Spares   int       `json:"spares"`
	MassEach float64   `json:"mass-each,omitempty"`
	Key      string    `json:"key,omitempty"`
	Torque   float64   `json:"torque-most,omitempty"`
	Lock     string    `json:"lock,omitempty"`
	Note     string    `json:"note,omitempty"`
	Sure     bool      `json:"sure"`
	Uses     []jsonUse `json:"uses"`
}

type jsonUse struct {
	Where string `json:"where"`
	Count int    `json:"count"`
	Lock  string `json:"lock,omitempty"`
}

type jsonHardJoint struct {
	ID    string `json:"id"`
	Screw string `json:"screw"`
}

// HardwareJSON returns the list for programs: lines as in the text, and the screw of every
// joint. Masses g, lengths mm, torques N·m.
func HardwareJSON(asm *layout.Assembly) ([]byte, error) {
	out := jsonHardware{Dryfit: 1, Name: asm.Name, Lines: []jsonHardLine{}, Joints: []jsonHardJoint{}}
	lines := asm.Hardware()
	for i := range lines {
		l := &lines[i]
		j := jsonHardLine{
			Kind: string(l.Kind), Thread: l.Thread, Length: *round(l.Length), Head: l.Head, Material: l.Material, Part: l.Part,
			Count: l.Count, Spares: l.Spares, MassEach: *round(l.MassEach), Key: l.Key, Torque: *round(l.Torque), Lock: l.Lock, Note: l.Note, Sure: l.Sure,
		}
		for _, u := range l.Uses {
			j.Uses = append(j.Uses, jsonUse{u.Where, u.Count, u.Lock})
		}
		out.Lines = append(out.Lines, j)
	}
	for _, j := range asm.Joints {
		out.Joints = append(out.Joints, jsonHardJoint{j.ID, j.Label()})
	}
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(out); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}
