package iec

import (
	"math"

	"strapper/rules"
	"strapper/unit"
)

// What the checks of circuits ask, in our own words.
const (
	ExplainDesign     = "The current that the load draws is no more than the rating of the device."
	ExplainCable      = "The device is rated no higher than the cable can carry where it lies; a load that cannot overload the cable need only fit it."
	ExplainBreaking   = "The device can interrupt the greatest fault current at its place."
	ExplainHeat       = "The conductor is thick enough for the heat of a fault until the device has cleared it: S >= √(I²t)/k."
	ExplainLoop       = "An earth fault at the farthest point draws enough current for the device to disconnect it in the time allowed; where it does not, a residual current device may."
	ExplainAlone      = "Where a residual current device disconnects an earth fault, the overcurrent device should be able to by itself; a loop too high for it clears no other fault in time."
	ExplainTT         = "On a TT supply a residual current device disconnects earth faults, and the loop impedance is low enough to hold the touch voltage down."
	ExplainLuminaires = "Circuits that supply luminaires in a dwelling have a residual current device of at most 30 mA."
	ExplainDrop       = "The voltage lost from the origin to the farthest lamp stays within the share of the nominal voltage given for lighting."
)

// DesignCurrent judges Ib <= In.
func DesignCurrent(_ *rules.Book, c *rules.CircuitCase, v *rules.Verdict) {
	switch {
	case c.Rated <= 0:
		v.Leave("read its rating", "the rating of the overcurrent device is not known")
	case !c.Design.Known:
		v.Leave("work out the load", "the current that the load draws is not known")
	default:
		v.AtMost("the current drawn by the load", rules.Of(c.Design.Value), rules.Of(c.Rated), "use lamps of less power, or divide the circuit")
	}
}

// DeviceCable judges In <= Iz, or Ib <= Iz where the load cannot overload it.
func DeviceCable(_ *rules.Book, c *rules.CircuitCase, v *rules.Verdict) {
	current, what, fix := c.Rated, "the rating of the device", "fit a device of a lower rating, or a larger cable"
	if c.Overload == rules.No {
		if !c.Design.Known {
			v.Leave("work out the load", "the current that the load draws is not known")
			return
		}
		current, what, fix = c.Design.Value, "the current drawn by a load that cannot overload the cable", "use lamps of less power, or a larger cable"
	}
	switch {
	case current <= 0:
		v.Leave("read its rating", "the rating of the overcurrent device is not known")
	case c.Carries <= 0:
		v.Leave("say how each cable is installed", "what the cable can carry where it lies is not known")
	default:
		if c.Stretch != "" {
			v.Work("weakest stretch: %s", c.Stretch)
		}
		v.AtMost(what, rules.Of(current), rules.Of(c.Carries), fix)
	}
}

// Breaking judges the prospective fault current against what the device can
// interrupt: what is marked on it, else the least usual for its kind.
func Breaking(b *rules.Book, c *rules.CircuitCase, v *rules.Verdict) {
	capacity := c.Capacity
	if capacity <= 0 {
		a := rules.Ask(b, rules.Breaking, rules.Device(c.DeviceKind))
		if !a.Found {
			v.Leave("read it from the device", "the breaking capacity of the device is not known")
			return
		}
		v.Take(a.Trail)
		capacity = a.Value
	}
	if !c.Fault.Known {
		v.Leave("measure it, or ask the distributor", "the greatest fault current at the device is not known")
		return
	}
	v.AtMost("the prospective fault current", rules.Of(c.Fault.Value), rules.Of(capacity), "have a competent person fit a device that can break it")
}

// instant is the time below which let-through energy counts and not I²t (IEC
// 60364-4-43 434.5.2, from memory, to be confirmed).
const instant unit.Second = 0.1

// HeatLine judges the line conductor by the adiabatic equation.
func HeatLine(b *rules.Book, c *rules.CircuitCase, v *rules.Verdict) {
	heat(b, c, v, c.Line, rules.InCable)
}

// HeatEarth judges the protective conductor by the adiabatic equation.
func HeatEarth(b *rules.Book, c *rules.CircuitCase, v *rules.Verdict) {
	switch {
	case !c.Earth.Known:
		v.Leave("see what size it is", "the size of the protective conductor is not known")
	case c.Earth.Value <= 0:
		v.Skip("there is no protective conductor")
	default:
		heat(b, c, v, c.Earth.Value, c.EarthRuns)
	}
}

func heat(b *rules.Book, c *rules.CircuitCase, v *rules.Verdict, area unit.SquareMillimetre, runs string) {
	if area <= 0 || !c.LeastIF.Known || !c.Clears.Known {
		v.Leave("work out the fault current and the time in which the device clears it", "the fault current or the clearing time is not known")
		return
	}
	k := rules.Ask(b, rules.Adiabatic, rules.Insulation(c.Insulation), rules.Cpc(runs))
	if !v.Take(k.Trail) {
		return
	}
	t := max(c.Clears.Value, instant)
	least := math.Sqrt(float64(c.LeastIF.Value)*float64(c.LeastIF.Value)*float64(t)) / float64(k.Value)
	v.Work("S >= √(%.4g² A² × %.3g s) / %.4g = %.3g mm²", float64(c.LeastIF.Value), float64(t), float64(k.Value), least)
	v.AtLeast("the conductor", rules.Of(area), rules.Of(unit.SquareMillimetre(least)), "fit a larger conductor, or a device that clears the fault sooner")
	if v.Outcome == rules.NotMet && c.Clears.Value <= instant {
		v.Leave("compare k²S² with the let-through energy that the device's maker gives", "the device clears within 0.1 s, where its let-through energy counts and not I²t")
	}
}

// Disconnection judges the loop impedance on a TN supply: by the overcurrent
// device, else by the residual current device.
func Disconnection(b *rules.Book, c *rules.CircuitCase, v *rules.Verdict) {
	switch {
	case c.System == "TT":
		v.Skip("on a TT supply a residual current device disconnects earth faults")
		return
	case !c.Zs.Known:
		v.Leave("work out or measure the loop impedance", "the loop impedance is not known")
		return
	}
	limit, ok := loopLimit(b, c, v)
	if ok {
		v.AtMost("the loop impedance"+at(c.ZsAt)+", conductors warm,", rules.Of(c.Zs.Value), rules.Of(limit), "find out why it is so high; let a competent person decide how the fault is to be disconnected")
	}
	if v.Outcome != rules.Met && c.RCD.Known && c.RCD.Value > 0 {
		residual(b, c, v)
	}
	if v.Outcome == rules.NotMet && c.ZsLow.Known && ok && c.ZsLow.Value <= limit {
		v.Outcome = rules.TooClose
		v.Why = "the loop impedance" + at(c.ZsAt) + " is worked out as " + rules.Of(c.ZsLow.Value).String() + " to " + rules.Of(c.Zs.Value).String() + "; at most " + rules.Of(limit).String() + " is asked"
		v.Fix = "measure it before the circuit is left in use"
	}
}

// DeviceAlone judges, where a residual current device makes up for it, whether
// the overcurrent device would disconnect by itself: a loop that is so high
// lets it clear no other fault in time either.
func DeviceAlone(b *rules.Book, c *rules.CircuitCase, v *rules.Verdict) {
	switch {
	case c.System == "TT":
		v.Skip("on a TT supply a residual current device disconnects earth faults")
	case !c.RCD.Known || !c.Zs.Known:
		v.Leave("work out or measure the loop impedance", "the loop impedance, or whether there is a residual current device, is not known")
	case c.RCD.Value <= 0:
		v.Skip("there is no residual current device that could make up for it")
	default:
		if limit, ok := loopLimit(b, c, v); ok {
			v.AtMost("the loop impedance"+at(c.ZsAt)+", conductors warm,", rules.Of(c.Zs.Value), rules.Of(limit), "measure it before the circuit is left in use, and let a competent person decide whether the RCD alone may disconnect it")
		}
	}
}

// loopLimit is the greatest loop impedance for the device in the time allowed;
// without one the verdict is set.
func loopLimit(b *rules.Book, c *rules.CircuitCase, v *rules.Verdict) (unit.Ohm, bool) {
	within := rules.Ask(b, rules.DisconnectIn, rules.System(c.System))
	if !v.Take(within.Trail) {
		return 0, false
	}
	limit := rules.Ask(b, rules.MaxZs, rules.Device(c.DeviceKind), rules.Curve(c.Curve), rules.Rated(c.Rated), rules.Within(within.Value))
	return limit.Value, v.Take(limit.Trail)
}

func at(where string) string {
	if where == "" {
		return ""
	}
	return " at " + where
}

// residual lets the residual current device disconnect what the overcurrent
// device does not.
func residual(b *rules.Book, c *rules.CircuitCase, v *rules.Verdict) {
	limit := rules.Ask(b, rules.ResidualZs, rules.Residual(c.RCD.Value))
	if !limit.Found {
		return
	}
	v.Take(limit.Trail)
	by := v.Why
	v.AtMost("the loop impedance"+at(c.ZsAt), rules.Of(c.Zs.Value), rules.Of(limit.Value), "find out why it is so high")
	if v.Outcome == rules.Met {
		v.Meet("the residual current device disconnects it, up to %v; by itself the overcurrent device does not, as %s", rules.Of(limit.Value), by)
	}
}

// Electrode judges a TT supply: an RCD is there, and the loop impedance is no
// more than it can work with.
func Electrode(b *rules.Book, c *rules.CircuitCase, v *rules.Verdict) {
	switch {
	case c.System == "":
		v.Leave("find out the type of earthing", "the type of earthing is not known")
	case c.System != "TT":
		v.Skip("the supply is %s", c.System)
	case !c.RCD.Known:
		v.Leave("look for one at the board and before it", "it is not known whether there is a residual current device")
	case c.RCD.Value <= 0:
		v.Breach("protect the circuit with a 30 mA RCD", "%s has no residual current device: on a TT supply nothing else disconnects an earth fault", c.Name)
	default:
		electrode(b, c, v)
	}
}

func electrode(b *rules.Book, c *rules.CircuitCase, v *rules.Verdict) {
	z := c.Zs
	if !z.Known {
		z = c.Ze
	}
	if !z.Known {
		v.Leave("measure it", "the loop impedance is not known")
		return
	}
	limit := rules.Ask(b, rules.ResidualZs, rules.Residual(c.RCD.Value))
	if v.Take(limit.Trail) {
		v.AtMost("the loop impedance"+at(c.ZsAt), rules.Of(z.Value), rules.Of(limit.Value), "better the earth electrode")
	}
}

// Luminaires judges additional protection of lighting in a dwelling.
func Luminaires(b *rules.Book, c *rules.CircuitCase, v *rules.Verdict) {
	switch {
	case c.Serves == rules.No:
		v.Skip("the circuit supplies no luminaires in a dwelling")
	case c.Serves == rules.Unknown:
		v.Leave("say what the circuit supplies", "it is not known whether the circuit supplies luminaires in a dwelling")
	case c.New == rules.No:
		v.Skip("the work adds nothing to this circuit; what is there is judged by the rules of its own time")
	default:
		Additional(b, c, v, "a circuit that supplies luminaires in a dwelling")
	}
}

// Additional judges that an RCD gives additional protection; because says what
// asks for it: "a circuit that …".
func Additional(b *rules.Book, c *rules.CircuitCase, v *rules.Verdict, because string) {
	most := rules.Ask(b, rules.ResidualMost)
	if !v.Take(most.Trail) {
		return
	}
	fix := "protect the new part at least with an RCD of " + rules.Of(most.Value).String()
	switch {
	case !c.RCD.Known:
		v.Leave("look for one at the board and before it", "it is not known whether there is a residual current device")
	case c.RCD.Value <= 0:
		v.Breach(fix, "%s has no residual current device; %s needs one of at most %v", c.Name, because, rules.Of(most.Value))
	default:
		v.AtMost("the rated residual current", rules.Of(c.RCD.Value), rules.Of(most.Value), fix)
	}
}

// Drop judges the voltage drop; beyond 100 m of wiring a book may allow more.
func Drop(b *rules.Book, c *rules.CircuitCase, v *rules.Verdict) {
	if !c.Drop.Known || c.Voltage <= 0 {
		v.Leave("work out the load and the lengths", "the voltage drop is not known")
		return
	}
	supply := "public"
	if c.Private {
		supply = "private"
	}
	limit := rules.Ask(b, rules.DropLimit, rules.Use(c.Use), rules.Supply(supply))
	if !v.Take(limit.Trail) {
		return
	}
	share := limit.Value + allowance(b, c, v)
	most := unit.Volt(share.Fraction() * float64(c.Voltage))
	v.Work("%.4g %% of %.4g V = %.4g V", float64(share), float64(c.Voltage), float64(most))
	what := "the voltage lost on the way"
	if c.Farthest != "" {
		what += " to " + c.Farthest
	}
	v.AtMost(what, rules.Of(c.Drop.Value), rules.Of(most), "use a larger cable, a shorter route or lamps of less power")
}

// beyond is the length of wiring from which a book may allow more (IEC
// 60364-5-52 Table G.52.1).
const beyond = 100 * unit.Metre

// allowance is what a book adds to the share for each metre beyond 100 m, up
// to its most; nothing where it has no such figures.
func allowance(b *rules.Book, c *rules.CircuitCase, v *rules.Verdict) unit.Percent {
	if c.Route <= beyond {
		return 0
	}
	each := rules.Ask(b, rules.Question[unit.Percent]("drop-allowance"))
	most := rules.Ask(b, rules.Question[unit.Percent]("drop-allowance-most"))
	if !each.Found || !most.Found {
		return 0
	}
	more := min(unit.Percent(float64(each.Value)*(c.Route-beyond).Metres()), most.Value)
	v.Cells = append(v.Cells, append(each.Cells, most.Cells...)...)
	v.Work("beyond 100 m: %g %% × %.4g m, at most %g %%: %.3g %%", float64(each.Value), (c.Route - beyond).Metres(), float64(most.Value), float64(more))
	return more
}
