package change_test

// A wish is a house with what is asked of it.
type wish struct{ name, text string }

// wishes are asks that can be met; the tests of ways, moves, efforts and
// mutations go through all of them.
var wishes = []wish{
	{"two places", ceilingHouse + newTop + bothWays},
	{"two places, two-core only", ceilingHouse + `
could:
  boxes: { top: { kind: plaster-1g-35 } }
  cables:
    strap: { kinds: [te-1.0], from: hall, to: top, length: 6 m, time: 40 min }
    over: { kinds: [te-1.0], from: point, to: top, length: 7 m, time: 50 min }
` + bothWays},
	{"feed at the switch", feedHouse + `
could:
  boxes: { top: { kind: plaster-1g-35 } }
  cables:
    strap: { kinds: [te-1.0, 3ce-1.0], from: hall, to: top, length: 6 m }
    back: { kinds: [te-1.0], from: top, to: point, length: 4 m }
` + bothWays},
	{"feed moved to the switch", ceilingHouse + `
could:
  boxes: { door: { kind: plaster-1g-35 } }
  cables:
    new: { kinds: [te-1.0, 3ce-1.0], from: board, to: door, length: 6 m, time: 40 min }
    lead: { kinds: [te-1.0, 3ce-1.0], from: door, to: point, length: 6 m, time: 40 min, replaces: feed }
want: [{ lamps: [point.lamp], at: [door] }]
`},
	{"pair gets a third place", pairHouse + `
could:
  boxes: { mid: { kind: plaster-1g-35 } }
  cables:
    low: { kinds: [3ce-1.0], from: hall, to: mid, length: 3 m, time: 20 min, replaces: strap }
    high: { kinds: [3ce-1.0], from: mid, to: top, length: 4 m, time: 20 min }
want: [{ lamps: [point.lamp], at: [{ box: hall, keep: true }, mid, { box: top, keep: true }] }]
`},
	{"pair gets a third place beyond", pairHouse + `
could:
  boxes: { end: { kind: plaster-1g-35 } }
  cables:
    high: { kinds: [te-1.0, 3ce-1.0], from: top, to: end, length: 4 m, time: 20 min }
want: [{ lamps: [point.lamp], at: [hall, top, end] }]
`},
	{"pair back to one switch", pairHouse + "want: [{ lamps: [point.lamp], at: [hall] }]\n"},
	{"group split", sharedHouse + `
could:
  cables: { more: { kinds: [te-1.0, 3ce-1.0], from: front, to: hall, length: 5 m, time: 40 min } }
want:
  - { lamps: [front.lamp], at: [hall] }
  - { lamps: [back.lamp], at: [hall] }
`},
	{"two lamps as one", roomsHouse + "want: [{ lamps: [front.lamp, back.lamp], at: [hall] }]\ncould: { cables: { more: { kinds: [te-1.0], from: front, to: back, length: 4 m } } }\n"},
	{"two lamps from two places", roomsHouse + `
could: { cables: { more: { kinds: [te-1.0, 3ce-1.0], from: front, to: back, length: 4 m }, low: { kinds: [te-1.0, 3ce-1.0], from: hall, to: yard, length: 4 m } } }
want: [{ lamps: [front.lamp, back.lamp], at: [hall, yard] }]
`},
	{"switch moved", ceilingHouse + `
could:
  boxes: { door: { kind: plaster-1g-35 } }
  cables: { new: { kinds: [te-1.0, te-1.0-brown], from: point, to: door, length: 4 m, time: 30 min } }
want: [{ lamps: [point.lamp], at: [door] }]
`},
	{"switch moved, drop lengthened", ceilingHouse + `
could:
  boxes: { door: { kind: plaster-1g-35 } }
  cables: { new: { kinds: [te-1.0], from: hall, to: door, length: 4 m, time: 30 min } }
want: [{ lamps: [point.lamp], at: [door] }]
`},
	{"two circuits in a box", circuitsHouse + "want: [{ lamps: [high.lamp], at: [hall.s2, top] }]\n"},
	{"stairs of two circuits", circuitsHouse + `
want:
  - { lamps: [high.lamp], at: [hall.s2, top] }
  - { lamps: [low.lamp], at: [hall.s1] }
`},
	{"old colours", oldHouse + `
could:
  boxes: { top: { kind: plaster-1g-35 } }
  cables: { strap: { kinds: [te-1.0, 3ce-1.0], from: hall, to: top, length: 6 m, time: 40 min } }
` + bothWays},
	{"no protective conductor", bareHouse + `
could:
  boxes: { top: { kind: plaster-1g-35 } }
  cables:
    strap: { kinds: [te-1.0, 3ce-1.0], from: hall, to: top, length: 6 m, time: 40 min }
    over: { kinds: [te-1.0, 3ce-1.0], from: point, to: top, length: 7 m, time: 50 min }
` + bothWays},
	{"sensor at the switch", oldHouse + "want: [{ lamps: [point.lamp], at: [{ box: hall, fit: pir }] }]\n"},
	{"neutral at the switch", oldHouse + "want: [{ lamps: [point.lamp], at: [{ box: hall, neutral: true }] }]\n"},
	{"dimmer in place of the switch", ceilingHouse + "want: [{ lamps: [point.lamp], at: [{ box: hall, fit: dimmer }] }]\n"},
	{"dimmer with a neutral at one of two", oldHouse + `
could:
  boxes: { top: { kind: plaster-1g-35 } }
  cables: { strap: { kinds: [3ce-1.0], from: hall, to: top, length: 6 m, time: 40 min } }
want: [{ lamps: [point.lamp], at: [{ box: hall, fit: dimmer-neutral }, top] }]
`},
	{"master off for two", roomsHouse + `
could:
  boxes: { door: { kind: plaster-1g-35 } }
  cables:
    in: { kinds: [te-1.0], from: front, to: door, length: 4 m }
want:
  - { lamps: [front.lamp], at: [hall], off: [door] }
  - { lamps: [back.lamp], at: [yard], off: [door] }
`},
	{"either of two", ceilingHouse + newTop + "want: [{ lamps: [point.lamp], at: [hall, top], rule: any }]\n"},
	{"both of two", ceilingHouse + newTop + "want: [{ lamps: [point.lamp], at: [hall, top], rule: all }]\n"},
	{"doubtful cable", oldHouse + newTop + bothWays + "limits: { doubtful: [drop] }\n"},
	{"kept switch", pairHouse + "want: [{ lamps: [point.lamp], at: [{ box: hall, keep: true }, { box: top, keep: true }] }]\nlimits: { closed: [point] }\n"},
	{"stock", ceilingHouse + newTop + bothWays + "limits: { stock: { cables: { te-1.0: 20 m }, switches: { two-way: 2 } } }\n"},
	{"only two-way on the van", ceilingHouse + "could: { boxes: { door: { kind: plaster-1g-35 } }, cables: { new: { kinds: [te-1.0], from: point, to: door, length: 4 m } } }\nwant: [{ lamps: [point.lamp], at: [door] }]\nlimits: { stock: { cables: { te-1.0: 20 m }, switches: { two-way: 2 } } }\n"},
	{"conduit", ceilingHouse + `
could:
  cables:
    again: { kinds: [3ce-1.0], from: point, to: hall, length: 5 m, time: 15 min, replaces: drop }
want: [{ lamps: [point.lamp], at: [{ box: hall, fit: pir }] }]
`},
	{"protective conductor run for it", bareHouse + `
could:
  boxes: { top: { kind: plaster-1g-35 } }
  cables:
    strap: { kinds: [te-1.0, 3ce-1.0], from: hall, to: top, length: 6 m, time: 40 min }
    earth: { kinds: [single-earth-1.5], from: point, to: hall, length: 5 m, time: 30 min }
` + bothWays},
	{"pull cord at the bed", ceilingHouse + `
could:
  boxes: { bed: { kind: ceiling-box } }
  cables: { over: { kinds: [te-1.0, 3ce-1.0], from: point, to: bed, length: 3 m }, down: { kinds: [3ce-1.0], from: hall, to: bed, length: 6 m } }
want: [{ lamps: [point.lamp], at: [hall, { box: bed, fit: pull-two-way }] }]
`},
	{"three places", ceilingHouse + thirdPlace},
	{"nothing to do", pairHouse + "want: [{ lamps: [point.lamp], at: [hall, top] }]\n"},
}
