package main

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"dryfit/layout/starter"
)

func newNew(e *env) *cobra.Command {
	o := starter.Options{Prop: "5", Rotors: 4, ESC: starter.FourInOne}
	var prop, escs, out string
	var plain, force bool
	cmd := &cobra.Command{
		Use:   "new",
		Short: "Write a commented starter build that checks clean",
		Long: `Writes a build file to go on from: classes of the catalogue that suit the prop, and plates,
posts and wheelbase worked out from their sizes. It checks clean as it is. Its figures are
typical ones: measure the parts in your hand, write what you find, check again.

Props in inch:  ` + strings.Join(starter.Props(), ", ") + `
Rotors:         3, 4, 6 or 8
ESCs:           four-in-one (boards in the stack) or arms (one on each arm)
Cells:          what the motors for that prop take; without --cells the usual number`,
		Example: `  dryfit new --prop 5 > mine.yaml
  dryfit new --prop 4 --escs arms --cells 4 --name heron --out heron.yaml
  dryfit new --prop 7 --rotors 6 --no-camera`,
		Args: noArgs,
		RunE: func(*cobra.Command, []string) error {
			o.Prop, o.ESC, o.Camera = inches(prop), starter.ESC(escs), !plain
			data, err := starter.Write(o)
			var m *starter.Mistake
			switch {
			case errors.As(err, &m):
				return unusable("dryfit: --%s: %s", m.Option, m.Text)
			case err != nil:
				return fault("%v", err)
			case out == "" || out == "-":
				return e.print(data)
			}
			if err := writeNew(out, data, force); err != nil {
				return unusable("dryfit: %v", err)
			}
			return e.print([]byte(fmt.Sprintf("%s\nnext: dryfit check %s\n", out, out)))
		},
	}
	f := cmd.Flags()
	f.StringVar(&prop, "prop", "5", "size of the props in inch")
	f.IntVar(&o.Rotors, "rotors", 4, "how many rotors: 3, 4, 6 or 8")
	f.StringVar(&escs, "escs", string(starter.FourInOne), "where the speed controllers sit: four-in-one or arms")
	f.IntVar(&o.Cells, "cells", 0, "cells of the pack in series (without it: the usual number)")
	f.StringVar(&o.Name, "name", "", "name of the craft, for drawings")
	f.BoolVar(&plain, "no-camera", false, "leave out camera, video transmitter and antenna")
	f.StringVarP(&out, "out", "o", "", "file to write (without it: standard output)")
	f.BoolVar(&force, "force", false, "write over a file that is there")
	takes(cmd, "prop", "INCH")
	takes(cmd, "rotors", "N")
	takes(cmd, "escs", "WHERE")
	takes(cmd, "cells", "N")
	takes(cmd, "name", "NAME")
	takes(cmd, "out", "FILE")
	words(cmd, "prop", starter.Props()...)
	words(cmd, "rotors", "3", "4", "6", "8")
	words(cmd, "escs", string(starter.FourInOne), string(starter.OnArms))
	words(cmd, "cells", "2", "3", "4", "5", "6")
	return cmd
}

// inches drops the unit that people write after an inch size and trailing zeros: 5in, 5.0,
// 5" and 5 are one prop.
func inches(s string) string {
	s = strings.TrimSpace(s)
	for _, unit := range []string{"inches", "inch", "in", `"`, "″"} {
		if t, ok := strings.CutSuffix(s, unit); ok {
			s = strings.TrimSpace(t)
			break
		}
	}
	if v, err := strconv.ParseFloat(s, 64); err == nil && v > 0 && v < 1000 {
		return strconv.FormatFloat(v, 'g', -1, 64)
	}
	return s
}
