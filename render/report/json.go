package report

import (
	"bytes"
	"encoding/json"
	"math"

	"github.com/golang/geo/r3"

	"dryfit/layout"
	"dryfit/layout/rules"
)

type jsonReport struct {
	Dryfit  int           `json:"dryfit"`
	Name    string        `json:"name"`
	File    string        `json:"file,omitempty"`
	Fits    bool          `json:"fits"`
	Counts  jsonCounts    `json:"counts"`
	Rules   []jsonOutcome `json:"rules"`
	Supply  *jsonSupply   `json:"supply,omitempty"`
	Assumed []string      `json:"assumed,omitempty"`
}

type jsonCounts struct {
	OK      int `json:"ok"`
	Tight   int `json:"tight"`
	Fail    int `json:"fail"`
	Unknown int `json:"unknown"`
	Excused int `json:"excused"`
	Nothing int `json:"nothing"`
	Crashed int `json:"crashed"`
}

type jsonOutcome struct {
	Rule     string        `json:"rule"`
	Group    string        `json:"group,omitempty"`
	Question string        `json:"question"`
	Status   string        `json:"status"`
	Reason   string        `json:"reason,omitempty"`
	Findings []jsonFinding `json:"findings,omitempty"`
}

type jsonFinding struct {
	Verdict  string       `json:"verdict"`
	Number   int          `json:"number,omitempty"` // of its mark on the drawings
	Subjects []string     `json:"subjects"`
	Message  string       `json:"message"`
	Fix      string       `json:"fix,omitempty"`
	Unit     string       `json:"unit,omitempty"`
	Measured *float64     `json:"measured,omitempty"`
	Needed   *float64     `json:"needed,omitempty"`
	AtMost   bool         `json:"at-most,omitempty"`
	Margin   *float64     `json:"margin,omitempty"`
	Worst    *float64     `json:"worst,omitempty"`
	Chance   *float64     `json:"chance,omitempty"`
	Eaters   []jsonEater  `json:"eaters,omitempty"`
	RestsOn  []jsonDim    `json:"rests-on,omitempty"`
	Missing  []string     `json:"missing,omitempty"`
	Points   [][3]float64 `json:"points,omitempty"`
	Near     string       `json:"near,omitempty"`
	File     string       `json:"file,omitempty"`
	Line     int          `json:"line,omitempty"`
	Col      int          `json:"column,omitempty"`
	Excuse   string       `json:"excuse,omitempty"`
}

type jsonEater struct {
	Name string  `json:"name"`
	MM   float64 `json:"takes"`
}

type jsonDim struct {
	Name   string  `json:"name"`
	Value  float64 `json:"value"`
	Plus   float64 `json:"plus"`
	Minus  float64 `json:"minus"`
	Source string  `json:"source"`
	TolSrc string  `json:"tolerance-source"`
	Conf   string  `json:"confidence,omitempty"`
}

var statusWords = map[layout.Status]string{
	layout.NotRun: "not run", layout.Judged: "judged", layout.Nothing: "nothing to judge", layout.Crashed: "crashed",
}

// JSON returns the report for programs: the same rules, order and numbers as the
// text, lengths in mm rounded to 1e-6, ending in a newline.
func JSON(asm *layout.Assembly, outs []layout.Outcome) ([]byte, error) {
	c := Count(outs)
	r := jsonReport{
		Dryfit: 1, Name: asm.Name, File: asm.File,
		Fits:    c.Fail == 0 && c.Tight == 0 && c.Unknown == 0 && c.Crashed == 0,
		Counts:  jsonCounts{c.OK, c.Tight, c.Fail, c.Unknown, c.Excused, c.Nothing, c.Crashed},
		Assumed: asm.Notes, Supply: supplyJSON(asm),
		Rules: []jsonOutcome{},
	}
	numbers := map[*layout.Finding]int{}
	for _, n := range Number(outs) {
		for _, f := range n.All {
			numbers[f] = n.No
		}
	}
	for _, o := range outs {
		jo := jsonOutcome{Rule: o.Rule, Group: o.Group, Question: question(o.Rule), Status: statusWords[o.Status], Reason: o.Reason}
		for i := range o.Findings {
			f := findingJSON(&o.Findings[i])
			f.Number = numbers[&o.Findings[i]]
			jo.Findings = append(jo.Findings, f)
		}
		r.Rules = append(r.Rules, jo)
	}
	var buf bytes.Buffer
	enc := json.NewEncoder(&buf)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	if err := enc.Encode(r); err != nil {
		return nil, err
	}
	return buf.Bytes(), nil
}

func findingJSON(f *layout.Finding) jsonFinding {
	j := jsonFinding{
		Verdict: f.Verdict.String(), Subjects: f.Subjects, Message: f.Message, Fix: f.Fix,
		Near: f.Near, File: f.Pos.File, Line: f.Pos.Line, Col: f.Pos.Col,
	}
	if f.HasMeasure {
		j.Unit, j.AtMost = string(f.Unit), f.AtMost
		j.Needed = round(f.Needed)
		if f.Verdict != layout.Unknown {
			j.Measured, j.Margin = round(f.Measured), round(f.Margin)
			j.Worst, j.Chance = round(f.Worst), round(f.Chance)
		}
	}
	for _, e := range f.Eaters {
		j.Eaters = append(j.Eaters, jsonEater{e.Dim.Name, *round(e.MM)})
	}
	for _, d := range f.RestsOn {
		j.RestsOn = append(j.RestsOn, jsonDim{d.Name, *round(d.Value), *round(d.Plus), *round(d.Minus), d.Source.String(), d.TolSource.String(), d.Conf})
	}
	for _, d := range f.Missing {
		j.Missing = append(j.Missing, d.Name)
	}
	if f.HasPlace {
		j.Points = [][3]float64{point(f.A), point(f.B)}
	}
	if f.Excuse != nil {
		j.Excuse = f.Excuse.Why
	}
	return j
}

func point(v r3.Vector) [3]float64 { return [3]float64{*round(v.X), *round(v.Y), *round(v.Z)} }

// round keeps six decimals and turns -0 into 0, so that the bytes do not depend on the
// last bits of a sum. Values that are not finite would make invalid JSON; they cannot
// come from geom, and are clamped here so that a report is never lost to one.
func round(v float64) *float64 {
	if math.IsNaN(v) {
		v = 0
	}
	v = math.Max(-1e12, math.Min(1e12, v))
	r := math.Round(v*1e6) / 1e6
	if r == 0 {
		r = 0
	}
	return &r
}

// question looks up what a rule asks.
func question(name string) string {
	for _, r := range rules.All {
		if r.Name == name {
			return r.Question
		}
	}
	return ""
}
