package iec

import "strapper/rules"

// ExplainEarth is what [PointEarth] asks, in our own words.
const ExplainEarth = "A protective conductor is run to and joined at every point and accessory, but for an all-insulated pendant lampholder; metal that can be touched is earthed."

// PointEarth judges that a protective conductor reaches the point.
func PointEarth(_ *rules.Book, c *rules.PointCase, v *rules.Verdict) {
	switch {
	case c.Extra == rules.Yes:
		v.Skip("extra-low voltage that is separated from earth needs none")
	case c.Earthed == rules.Yes:
		v.Meet("a protective conductor reaches %s", c.Name)
	case c.Hung == rules.Yes:
		v.Skip("none is run to an all-insulated pendant lampholder")
	case c.Earthed == rules.Unknown:
		v.Leave("look for one in the box", "it is not known whether a protective conductor reaches %s", c.Name)
	case c.Metal == rules.Yes:
		v.Breach("run a protective conductor to it, or fit one that is double insulated and needs none", "%s has metal that can be touched and no protective conductor", c.Name)
	case c.New == rules.No:
		v.Skip("there from before: no metal fitting may be put here, and the occupier is to be told in writing")
	default:
		v.Breach("run one to it", "no protective conductor reaches %s, which is new or changed", c.Name)
	}
}
