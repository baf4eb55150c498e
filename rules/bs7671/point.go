package bs7671

import (
	"strings"

	"strapper/rules"
)

// waterDigit is the second digit of an IP code: 4 of "IP44" and "IPX4", 0 where
// it is X. ok is false if there is none.
func waterDigit(code string) (digit rules.Factor, ok bool) {
	rest, ip := strings.CutPrefix(strings.ToUpper(strings.ReplaceAll(code, " ", "")), "IP")
	if !ip || len(rest) < 2 {
		return 0, false
	}
	switch d := rest[1]; {
	case d == 'X':
		return 0, true
	case d >= '0' && d <= '9':
		return rules.Factor(d - '0'), true
	}
	return 0, false
}

// water judges a point's IP code against the least for its place.
func water(b *rules.Book, c *rules.PointCase, v *rules.Verdict, where string) {
	least := rules.Ask(b, rules.WaterDigit, rules.Where(where))
	if !v.Take(least.Trail) {
		return
	}
	digit, ok := waterDigit(c.IP)
	if !ok {
		v.Leave("read its IP code from the label or the maker's sheet", "%s stands in a place that asks for at least IPX%.0f, and its IP code is not known", c.Name, float64(least.Value))
		return
	}
	v.AtLeast("the second digit of "+c.IP, rules.Of(digit), rules.Of(least.Value), "choose a fitting that keeps more water out, or another place")
}

// bath leaves out points that are not in a bathroom, those whose zone is not
// known, and rooms with a pool or a sauna heater, which have rules of their own
// (BS 7671 sections 702 and 703) that are not held here.
func bath(c *rules.PointCase, v *rules.Verdict) bool {
	switch {
	case c.Place == rules.PlaceUnknown:
		v.Leave("say in which room it is", "it is not known whether %s is in a room with a bath or shower", c.Name)
	case c.Place == rules.PlacePool || c.Place == rules.PlaceSauna:
		v.Leave("let somebody who works in such rooms decide", "%s is in a room with a pool or a sauna heater, and this book does not hold the rules for those", c.Name)
	case c.Place != rules.PlaceBathroom:
		v.Skip("not in a room with a bath or shower")
	case c.Zone == rules.ZoneUnknown:
		v.Leave("measure from the bath or shower and say which zone it is in", "the zone in which %s stands is not known", c.Name)
	case c.Zone == rules.ZoneOutside:
		v.Skip("outside the zones")
	default:
		return true
	}
	return false
}

func bathWater(b *rules.Book, c *rules.PointCase, v *rules.Verdict) {
	if bath(c, v) {
		water(b, c, v, "zone "+string(c.Zone))
	}
}

func bathInside(_ *rules.Book, c *rules.PointCase, v *rules.Verdict) {
	switch {
	case !bath(c, v):
	case c.Zone != rules.Zone0:
		v.Skip("not in zone 0")
	case c.Extra == rules.Yes:
		v.Due("see that the source stands outside the zones, and that it is 12 V AC or 30 V DC at most", "%s is extra-low voltage", c.Name)
	case c.Extra == rules.No:
		v.Breach("put it elsewhere", "%s stands inside the bath or shower basin at mains voltage", c.Name)
	default:
		v.Leave("read its voltage", "the voltage of %s is not known", c.Name)
	}
}

func bathSwitch(_ *rules.Book, c *rules.PointCase, v *rules.Verdict) {
	switch {
	case c.Kind != rules.KindSwitch && c.Kind != rules.KindPull:
		v.Skip("not a switch")
	case !bath(c, v):
	case c.Kind == rules.KindPull && c.Zone != rules.Zone0:
		v.Due("see that the switch itself is above 2.25 m or outside the zones, so that only its cord hangs in them", "only the cord of a pull switch may be in zones 1 and 2")
	case c.Extra == rules.Yes && c.Zone != rules.Zone0:
		v.Meet("an extra-low voltage switch may stand there")
	default:
		v.Breach("put it outside the room or the zones, or use a pull cord", "%s is a switch in zone %s", c.Name, c.Zone)
	}
}

func outsideWater(b *rules.Book, c *rules.PointCase, v *rules.Verdict) {
	switch c.Place {
	case rules.PlaceUnknown:
		v.Leave("say in which room it is", "it is not known whether %s is in the open", c.Name)
	case rules.PlaceOutside:
		water(b, c, v, "outside")
	default:
		v.Skip("not in the open")
	}
}
