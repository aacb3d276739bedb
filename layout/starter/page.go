package starter

// pageText is the build file. It teaches where it is read: each section says what may stand
// there, each guessed figure asks to be measured.
const pageText = `# {{.Heading}}.
# A start, not a design: it checks clean with class figures written as if they were measured.
# Measure the parts in your hand, write what you find, and check again after each change.
#   dryfit check FILE     dryfit draw FILE     dryfit parts show NAME     dryfit rules
# Lengths in mm, masses in g, angles in degrees, counter-clockwise seen from above; x points forward,
# y to the left, z up. "7.2 ±0.3" carries its own tolerance; without one a usual one is assumed.
# CAUTION: propellers off for every powered bench test. First power-up through a current limiter.
# Lithium packs: charge attended, never a damaged one, check polarity before the first connection.
# Carbon dust: cut wet, mask and gloves; break the sharp edges. Local codes decide about flight and radio.
dryfit: 1
name: {{.Quoted}}
about: {{.Heading}}

# Your own parts. "like:" takes over a class of the catalogue; write what differs. MEASURE ALL OF THESE.
parts:
{{- if .Small}}
  plate-carbon: {like: carbon, hole-tolerance: 0 ±0.05, place-tolerance: 0 ±0.05}   # ask the cutter: M2 holes need it
{{- end}}
  motor: {like: {{(.Part "motor").Name}}, body-height: {{.Measured (.Part "motor").Motor.BodyH 0.2}}, thread-usable: {{.MotorThread}} ±0.1{{if .ByScrews}}, bell-thread: {{.BellThread}} ±0.1{{end}}{{if (.Part "motor").Motor.Stub}}, stub: {{.Stub}} ±0.2, threaded-part: {{.Measured (.Part "motor").Motor.ThreadedPart 0.2}}{{end}}}
  prop: {like: {{(.Part "prop").Name}}, real-diameter: {{.Measured (.Part "prop").Prop.RealD 0.5}}, hub-thickness: {{.Measured (.Part "prop").Prop.HubT .HubTol}}, below-hub: {{.Measured (.Part "prop").Prop.BelowHub 0.3}}}
{{- with .Part "controller"}}
  flight-board:
    like: {{.Name}}
    size: [{{$.Measured .Body.Length 0.2}}, {{$.Measured .Body.Width 0.2}}]   # along the arrow, across it
    pcb: {{$.Measured .Body.Pcb 0.1}}                # bare board
    above: {{$.Measured .Body.Above 0.2}}              # tallest part on the top face, from the board
    below: {{$.Measured .Body.Below 0.2}}
    ports: {boot: {button: true, edge: left, along: {{$.N "button"}}, axis: 1 ±0.2, reach: true}}   # pressed from the side
{{- end}}
{{- if .Four}}{{with .Part "esc"}}
  esc-board:                    # {{$.Amps}}
    like: {{.Name}}
    size: [{{$.Measured .Body.Length 0.2}}, {{$.Measured .Body.Width 0.2}}]
    pcb: {{$.Measured .Body.Pcb 0.1}}
    above: {{$.Measured .Body.Above 0.2}}
    below: {{$.Measured .Body.Below 0.2}}
    square: {ring: isolated}    # measure: no contact from the copper round the holes to either pack pad
    zones:                      # solder with the wires on: the tallest things on most of these boards
{{- range $name := $.Zones}}{{with $.Zone $name}}
      - {name: {{$name}}, face: top, at: [{{.x}}, {{.y}}], size: [{{if eq $name "pack-pads"}}{{.long}}{{else}}{{$.PadZone}}{{end}}, {{.wide}}], height: {{.height}}, live: true}
{{- end}}{{end}}
{{- end}}{{end}}
{{- if .Arms}}{{with .Part "esc"}}
  speed-controller: {like: {{.Name}}, size: [{{$.Measured .Body.Length 0.2}}, {{$.Measured .Body.Width 0.2}}, {{$.Measured .Body.Height 0.2}}]}   # {{$.Amps}}
{{- end}}{{with .Part "power"}}
  power-board: {like: {{.Name}}, size: [{{$.Measured .Body.Length 0.2}}, {{$.Measured .Body.Width 0.2}}], pcb: {{$.Measured .Body.Pcb 0.1}}, above: {{$.Measured .Body.Above 0.2}}, below: {{$.Measured .Body.Below 0.2}}, square: {ring: isolated}}   # measure: no contact from the copper round the holes to either pack pad
{{- else}}
  power-board:                  # shares the pack's leads out to the arms; the catalogue has none on these holes
    kind: power-board
    size: [{{$.Measured (.Part "controller").Body.Length 0.2}}, {{$.Measured (.Part "controller").Body.Width 0.2}}]
    pcb: 1 ±0.1
    above: 1.5 ±0.2
    below: 0.3 ±0.1
    mass: 3 g ±0.3
    square: {side: {{.Pattern}}, hole: 2.3 ±0.08, screw: M2, clear: 4.5, ring: isolated}   # side of the square of holes; no contact from their rings to either pack pad
    zones: [{name: pack-pads, face: top, at: [-11, 0], size: [4, 10], height: 3 ±0.4, live: true}]
{{- end}}{{end}}
  spacer: {like: {{(.Part "spacer").Name}}, corners: {{.Corner}}}   # over the corners of the hexagon
  soft-mount: {like: {{(.Part "grommet").Name}}, free: {{.Measured (.Part "grommet").Grommet.Free 0.1}}, tight: {{.Measured (.Part "grommet").Grommet.Tight 0.1}}{{if .Small}}, bore: 2.1 ±0.1{{end}}}
  post: {like: {{(.Part "post").Name}}, thread-depth: {{.PostThread}} ±0.5}
{{- if .Camera}}{{with .Part "camera"}}
  nose-camera: {like: {{.Name}}, width: {{$.Measured .Camera.Width 0.1}}, height: {{$.Measured .Camera.Height 0.2}}, depth: {{$.Measured .Camera.Depth 0.2}}, lens-diameter: {{$.Measured .Camera.LensD 0.2}}, pivot-back: {{$.Measured .Camera.PivotBack 0.2}}}
{{- end}}{{with .Part "sender"}}
  video-sender: {like: {{.Name}}, size: [{{$.Measured .Body.Length 0.2}}, {{$.Measured .Body.Width 0.2}}, {{$.Measured .Body.Height 0.2}}]{{if not $.Small}}, ports: {antenna: {plug: mmcx, edge: back, axis: 2 ±0.2, overhang: 0.8 ±0.2}}{{end}}}
{{- end}}{{end}}

# layout: cross, plus, stretched, three, six, eight or by-hand; one rotor's turn decides all the others.
rotors:
  layout: {{.Layout}}
  wheelbase: {{.N "wheelbase"}}                # circle through the motor axes; tip gap {{.TipGap}}
  motor: motor
  prop: prop
{{- if .MotorWasher}}
  screw: {washer: true}         # the screws' lengths follow from what they clamp: dryfit hardware lists them
{{- end}}
  front-right: counter-clockwise

# Outlines are joined from rectangle, circle, capsule, bar, polygon, ring and arms, and may be cut:.
# Holes are said once: "for:" puts them where motors, posts, stacks or straps need them.
plates:
  base:
    material: {{.Stock}}
    thickness: {{.N "base"}} ±0.1
    outline:
      join:
        - {rectangle: [{{.N "long"}}, {{.N "wide"}}], corner: 6}
        - {arms: {width: {{.N "arm"}}, pad: {{.N "pad"}}}}   # one to each motor, with a disc under it
      fillet: 5
    holes:
      - {for: motors, hole: {{.MotorHole}}, centre: {{.Measured0 (.Part "motor").Motor.CentreHole}}}   # on the motor's bolt CIRCLE
      - {for: stacks.main, hole: {{.StackHole}}}   # on the SIDES of the boards' square
      - {for: posts.main}
  roof:
    material: {{.Stock}}
    thickness: {{.N "roof"}} ±0.1
    on: posts.main
    outline: {join: [{rectangle: [{{.N "long"}}, {{.N "wide"}}], corner: 6}]}
    holes:
      - {for: posts.main}
      - {slot: [{{.N "slotLength"}}, {{.N "slotWidth"}}], at: [0, {{.N "slotY"}}], mirror: left-right, for: strap, name: strap}

posts:
  main: {part: post, length: {{.N "post"}} ±0.1, from: base.top, at: [{{.N "postX"}}, {{.N "postY"}}], mirror: both}

# From the plate upwards: spacers, boards, nuts. turn: and flip: turn a board, soft: puts it on rubber.
stacks:
  main:
    from: base.top
    pattern: {{.Pattern}}
    items:
{{- range .Stack}}
      - {spacer: nylon, length: {{$.Num .Length}} ±0.1, part: spacer}
{{- if eq .Board "flight-board"}}
      - {board: flight-board, soft: soft-mount}
{{- else if eq .Board "esc-board" "power-board"}}
      - {{.Board}}
{{- else}}
      - {board: esc-board, as: {{.Board}}}
{{- end}}{{end}}
      - nut nylon
{{- if .Small}}
    bolts: {washer: true}       # small heads over the holes
{{- end}}

# What lies on a face of a plate, a board or the arms. hold: foam, tape, pad or glue, with its thickness.
mounts:
  receiver: {part: {{(.Part "receiver").Name}}, on: base.top, at: [{{.N "receiverX"}}, 0], hold: foam 1.1 mm}
{{- if .Arms}}
  esc: {part: speed-controller, on: arms, from-motor: {{.N "fromMotor"}}, sleeve: 0.35, hold: tape 0.5 mm}   # one on each arm
{{- end}}
{{- if .Camera}}
  video-sender: {part: video-sender, on: roof.bottom, at: [{{.N "senderX"}}, 0], hold: foam 2.2 mm}   # plug off the roof
{{- end}}

# The pad lifts the pack over the screw heads; slide: how far it may creep. A pack that reaches a disc can burn.
battery: {part: {{(.Part "pack").Name}}, on: roof.top, hold: pad {{.Pad}} mm, slide: {{.N "slide"}}, lead: rear, strap: {part: {{(.Part "strap").Name}}, through: roof.strap}}
{{- if .Camera}}

# by: height of the side-screw axis over the face; slot: width between the cheeks.
cameras:
  nose: {part: nose-camera, at: [{{.N "pivotX"}}, 0], above: base.top, by: {{.N "pivotZ"}}, tilt: {{.N "tiltLo"}}..{{.N "tiltHi"}} deg, slot: {{.N "cameraSlot"}} ±0.2, screw: {cheek: {{.Cheek}}}}

antennas:
  video: {part: {{(.Part "antenna").Name}}, on: roof.top, at: [{{.N "antennaX"}}, 0], lean: 0 deg}
{{- end}}

ports:
  flight-board.usb: {reach: true}   # the cable must go in with nothing to take off
{{- range .Unused}}
  {{.}}: {used: false}   # an empty socket needs no room for a plug
{{- end}}

# Wire, solder, ties and tape. Add "limit: 250 g" to be told how near a line in your local code is.
mass: {allowance: {{.Grams}} g ±{{.Third}}}
`
