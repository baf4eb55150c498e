package bs7671

import (
	"slices"

	"strapper/rules"
	"strapper/unit"
)

func edition(b *rules.Book, c *rules.WorkCase, v *rules.Verdict) {
	switch {
	case c.Designed == "":
		v.Leave("give the job a date", "the date of the design is not given")
	case c.Designed < b.From:
		v.Breach("name the edition in force on that day", "%s was not published before %s; the design is of %s", b.Name(), b.From, c.Designed)
	case b.Until != "" && c.Designed > b.Until:
		v.Breach("design to the current edition", "%s was withdrawn after %s; the design is of %s", b.Name(), b.Until, c.Designed)
	default:
		v.Meet("%s was in force on %s", b.Name(), c.Designed)
	}
}

// elsewhere leaves out the rules of other nations.
func elsewhere(c *rules.WorkCase, v *rules.Verdict, nation rules.Nation) bool {
	switch {
	case c.Nation == rules.NationUnknown && nation == rules.England:
		v.Leave("name the nation; each has rules of its own", "it is not said in which nation the house stands")
	case c.Nation != nation:
		v.Skip("the house is not said to stand in %s", nation)
	default:
		return false
	}
	return true
}

const (
	selfCertify = "let a registered installer certify it, or give notice to building control before work starts"
	askThem     = "ask your building control"
)

// notifiable sets the verdict where notice is needed.
func notifiable(c *rules.WorkCase, v *rules.Verdict, fix, format string, args ...any) {
	if c.Notified == rules.Yes {
		v.Meet("notice has been given")
		return
	}
	v.Due(fix, format, args...)
}

func notifyEngland(_ *rules.Book, c *rules.WorkCase, v *rules.Verdict) {
	switch {
	case elsewhere(c, v, rules.England):
	case c.NewCircuits > 0:
		notifiable(c, v, selfCertify, "notifiable: a new circuit")
	case c.Board == rules.Yes:
		notifiable(c, v, selfCertify, "notifiable: the consumer unit is replaced")
	case c.Special == rules.Yes:
		notifiable(c, v, selfCertify, "notifiable: some of it is in the space by a bath or shower, or in a pool or sauna room")
	case c.Special == rules.Unknown:
		v.Leave("say in which room, and in a bathroom in which zone, each box is; if in doubt "+askThem, "it is not known whether some of it is in the space by a bath or shower")
	default:
		v.Meet("not notifiable: an addition or alteration outside special locations, with no new circuit")
	}
}

func notifyWales(_ *rules.Book, c *rules.WorkCase, v *rules.Verdict) {
	switch {
	case elsewhere(c, v, rules.Wales):
	case c.NewCircuits > 0 || c.Board == rules.Yes:
		notifiable(c, v, selfCertify, "notifiable: a new circuit or consumer unit")
	case slices.Contains(c.Places, rules.PlaceKitchen):
		notifiable(c, v, askThem+": the list in force was read only as it stood in 2006", "as read, notifiable: some of it is in a kitchen")
	case c.Special == rules.Yes || slices.Contains(c.Places, rules.PlaceBathroom):
		notifiable(c, v, askThem+": the list in force was read only as it stood in 2006", "as read, notifiable: some of it is in a special location")
	case c.Garden == rules.Yes || slices.Contains(c.Places, rules.PlaceOutside):
		notifiable(c, v, askThem, "as read, notifiable: garden lighting is a special installation")
	case c.Special == rules.Unknown || slices.Contains(c.Places, rules.PlaceUnknown):
		v.Leave("say in which room each box is; if in doubt "+askThem, "it is not known in which rooms the work is")
	default:
		v.Meet("as read, not notifiable: lights or switches added to an existing circuit, outside kitchens and special locations")
	}
}

func notifyScotland(_ *rules.Book, c *rules.WorkCase, v *rules.Verdict) {
	switch {
	case elsewhere(c, v, rules.Scotland):
	case c.House == "flat":
		notifiable(c, v, "apply for a building warrant, or "+askThem, "wiring to lighting in a flat needs a building warrant")
	case c.House == "" || c.Storeys == 0:
		v.Leave("say whether it is a house or a flat, and of how many storeys", "it is not known what kind of building it is")
	case c.Storeys > 3:
		notifiable(c, v, "apply for a building warrant, or "+askThem, "wiring to lighting in a house of more than three storeys needs a building warrant")
	case c.Storeys == 3:
		v.Leave(askThem, "the sources read differ for a house of three storeys")
	default:
		v.Meet("no building warrant: a house of up to two storeys")
	}
}

func notifyNorthernIreland(_ *rules.Book, c *rules.WorkCase, v *rules.Verdict) {
	if !elsewhere(c, v, rules.NorthernIreland) {
		v.Meet("no notice is asked for domestic electrical work")
	}
}

func certificate(_ *rules.Book, c *rules.WorkCase, v *rules.Verdict) {
	const full = "issue an electrical installation certificate with its schedules"
	switch {
	case c.NewCircuits > 0:
		v.Due(full, "a new circuit, even with one point, needs a full certificate; a minor works record will not do")
	case c.Board == rules.Yes:
		v.Due(full, "a new consumer unit needs a full certificate")
	case c.Altered <= 0:
		v.Skip("no circuit is altered")
	case c.Altered == 1:
		v.Due("issue a minor works record citing "+v.Citation.Document+":"+v.Citation.Edition, "a minor works record will do: one existing circuit is altered")
	default:
		v.Due("issue a minor works record for each circuit, or one full certificate", "%d existing circuits are altered", c.Altered)
	}
}

// suspects are finishes that often held asbestos (HSE guidance, from memory,
// to be confirmed).
var suspects = []string{"textured coating", "insulating board", "cement board", "vinyl tiles"}

func asbestos(b *rules.Book, c *rules.WorkCase, v *rules.Verdict) {
	last := rules.Ask(b, rules.AsbestosYear)
	if !v.Take(last.Trail) {
		return
	}
	suspect := slices.Contains(suspects, c.Finish)
	switch {
	case c.Opens == rules.No:
		v.Skip("nothing is drilled, cut or lifted")
	case c.Built > int(last.Value):
		v.Meet("built or last finished in %d, after asbestos was banned", c.Built)
	case suspect:
		v.Due("do not drill, scrape or break it until a sample has been analysed", "the %s may hold asbestos%s", c.Finish, since(c.Built))
	case c.Built == 0:
		v.Due("take the year before 2000 until it is known; look for textured coatings, boards and old flash guards", "it is not known when the house was built or its surfaces last finished")
	default:
		v.Due("ask the occupier what is known; look at boards, textured coatings under paint, and old fuse carriers before they are disturbed", "built in %d, when asbestos was still used", c.Built)
	}
}

func since(year int) string {
	if year == 0 {
		return ", and the year it was put up is not known"
	}
	return ""
}

func alone(_ *rules.Book, c *rules.WorkCase, v *rules.Verdict) {
	switch c.Alone {
	case rules.No:
		v.Meet("two work together")
	case rules.Yes:
		v.Due("leave word where you are and when you will be back, have a telephone on you, and do nothing live, in a loft or up a long ladder without somebody by", "one person works alone")
	default:
		v.Leave("say how many will be there", "it is not known whether one person works alone")
	}
}

// stepping is the height above which the feet are counted as off the floor
// for long (common practice, no source).
const stepping = 2 * unit.Metre

func ladders(_ *rules.Book, c *rules.WorkCase, v *rules.Verdict) {
	switch {
	case c.Climb <= 0:
		v.Leave("give the greatest height of work above the floor", "the height of the work is not known")
	case c.Climb <= stepping:
		v.Meet("the work is within reach of the floor or a low step")
	default:
		v.Due("a stepladder or leaning ladder, secured and at one in four, only for short, light work of up to half an hour in one place; otherwise a platform with guard rails. In a stairwell a platform made for stairs", "some of the work is %v above the floor", rules.Of(c.Climb))
	}
}
