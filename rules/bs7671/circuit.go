package bs7671

import (
	"strapper/rules"
	"strapper/rules/iec"
)

func existingSound(_ *rules.Book, c *rules.CircuitCase, v *rules.Verdict) {
	switch c.Bonded {
	case rules.Yes:
		v.Meet("rating, condition, earthing and bonding were found adequate")
	case rules.No:
		v.Breach("put it right first, and tell the client in writing", "the existing installation was found inadequate for the addition")
	default:
		v.Due("look at rating, condition, earthing and main bonding before anything is added, and write down what was found", "it is not said that the existing installation was found adequate")
	}
}

func leastArea(b *rules.Book, c *rules.CircuitCase, v *rules.Verdict) {
	if c.Line <= 0 {
		v.Leave("see what size the cable is", "the size of the line conductor is not known")
		return
	}
	least := rules.Ask(b, rules.LeastArea, rules.Use(c.Use))
	if v.Take(least.Trail) {
		v.AtLeast("the line conductor", rules.Of(c.Line), rules.Of(least.Value), "use a larger cable")
	}
}

func electrodeSteady(b *rules.Book, c *rules.CircuitCase, v *rules.Verdict) {
	switch {
	case c.System != "TT":
		v.Skip("the supply has no earth electrode of its own")
	case !c.Ze.Known:
		v.Leave("measure it", "the resistance of the earth electrode is not known")
	default:
		most := rules.Ask(b, rules.SteadyElectrode)
		if v.Take(most.Trail) {
			v.AtMost("the earth electrode with its supply", rules.Of(c.Ze.Value), rules.Of(most.Value), "better the electrode, or have it measured again in dry weather")
		}
	}
}

func supplyZe(b *rules.Book, c *rules.CircuitCase, v *rules.Verdict) {
	switch {
	case c.System == "TT":
		v.Skip("on a TT supply it is mostly the electrode, which is judged by itself")
	case !c.Ze.Known:
		v.Leave("measure it, or ask the distributor", "the external loop impedance is not known")
	default:
		most := rules.Ask(b, rules.TypicalZe, rules.System(c.System))
		if v.Take(most.Trail) {
			v.AtMost("the external loop impedance", rules.Of(c.Ze.Value), rules.Of(most.Value), "ask the distributor, and measure it again")
		}
	}
}

func circuitEarth(_ *rules.Book, c *rules.CircuitCase, v *rules.Verdict) {
	switch {
	case c.New == rules.No:
		v.Skip("nothing is added to this circuit")
	case !c.Earth.Known:
		v.Leave("look for one at the board and at every box", "it is not known whether the circuit has a protective conductor")
	case c.Earth.Value <= 0:
		v.Breach("run a protective conductor to every new point before anything is added; no metal fitting on the old part", "%s has cable without a protective conductor", c.Name)
	default:
		v.Meet("the circuit has a protective conductor of %v throughout", rules.Of(c.Earth.Value))
	}
}

func hidden(b *rules.Book, c *rules.CircuitCase, v *rules.Verdict) {
	depth := rules.Ask(b, rules.ConcealedDepth)
	if !v.Take(depth.Trail) {
		return
	}
	switch c.Hidden {
	case rules.No:
		v.Skip("no new cable is hidden in a wall less than %d mm deep", depth.Value)
	case rules.Unknown:
		v.Leave("say how each new cable is installed", "it is not known whether new cable is hidden in a wall less than %d mm deep", depth.Value)
	default:
		iec.Additional(b, c, v, "new cable hidden less than 50 mm deep")
	}
}

func bathroom(b *rules.Book, c *rules.CircuitCase, v *rules.Verdict) {
	switch c.Wet {
	case rules.No:
		v.Skip("the circuit serves no room with a bath or shower")
	case rules.Unknown:
		v.Leave("say in which room each box is", "it is not known whether the circuit serves a room with a bath or shower")
	default:
		if c.New == rules.No {
			v.Skip("the work adds nothing to this circuit")
			return
		}
		iec.Additional(b, c, v, "a circuit that serves a room with a bath or shower")
	}
}

func residualType(_ *rules.Book, c *rules.CircuitCase, v *rules.Verdict) {
	switch {
	case !c.RCD.Known || c.RCD.Value <= 0:
		v.Skip("no residual current device is known of")
	case c.New == rules.No:
		v.Skip("the work adds nothing to this circuit")
	case c.RCDType == "":
		v.Leave("read it from the device: a sine alone is type AC", "the type of the residual current device is not known")
	case c.RCDType != "AC":
		v.Meet("it is of type %s", c.RCDType)
	case c.Direct == rules.No:
		v.Meet("type AC serves: the loads are known to have no direct-current part in their leakage")
	case c.Direct == rules.Yes:
		v.Breach("have it exchanged for type A", "it is of type AC, and the lamps are electronic")
	default:
		v.Leave("take type A unless every load is known to be plain", "it is of type AC, and it is not known whether the loads are electronic")
	}
}

func lampholders(b *rules.Book, c *rules.CircuitCase, v *rules.Verdict) {
	switch {
	case c.Holders == rules.No:
		v.Skip("the circuit feeds no ordinary lampholder")
	case c.Holders == rules.Unknown:
		v.Leave("say what is fitted", "it is not known whether the circuit feeds lampholders")
	case c.Rated <= 0:
		v.Leave("read its rating", "the rating of the overcurrent device is not known")
	default:
		most := rules.Ask(b, rules.LampholderDevice)
		if v.Take(most.Trail) {
			v.AtMost("the rating of the device before the lampholders", rules.Of(c.Rated), rules.Of(most.Value), "fit a device of a lower rating")
		}
	}
}

func oldSheath(_ *rules.Book, c *rules.CircuitCase, v *rules.Verdict) {
	switch c.Sheath {
	case "":
		v.Leave("look at the cable in the first box", "the sheath of the cable is not known")
	case "rubber", "lead":
		v.Breach("test its insulation first; do not bend it back, and have it renewed if it is not sound", "%s has %s-sheathed cable", c.Name, c.Sheath)
	default:
		v.Meet("the cable has a plastic sheath")
	}
}
