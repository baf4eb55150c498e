package bs7671

import (
	"strapper/rules"
	"strapper/rules/iec"
	"strapper/source"
)

func memory(clause string) source.Source {
	return source.Source{Authority: source.Memory, Cite: "BS 7671 " + clause, Note: "the clause was not read in print; to be confirmed"}
}

func published(cite string) source.Source {
	return source.Source{Authority: source.Published, Cite: cite, Note: "secondary source; not seen in the printed standard"}
}

func other(document, edition, clause string) rules.Citation {
	return rules.Citation{Document: document, Edition: edition, Clause: clause}
}

// checks are the book's list, one line a rule. An edition that changes the
// logic of a rule lists another function here.
func checks() []rules.Check {
	list := circuitChecks()
	list = append(list, pointChecks()...)
	list = append(list, readingChecks()...)
	return append(list, workChecks()...)
}

func circuitChecks() []rules.Check {
	return []rules.Check{
		{ID: "existing-sound", Clause: "132.16", Title: "Existing installation adequate", Explain: "Before anything is added, the rating and condition of what is there, and its earthing and bonding, are found adequate.", Source: published("Electrical Safety First and NICEIC guidance on minor works (aatestco.com)"), Circuit: existingSound},
		{ID: "design-current", Clause: "433.1.1", Title: "Device carries the load", Explain: iec.ExplainDesign, Source: memory("433.1.1"), Circuit: iec.DesignCurrent},
		{ID: "device-cable", Clause: "433.1.1", Title: "Device protects the cable", Explain: iec.ExplainCable, Source: memory("433.1.1"), Circuit: iec.DeviceCable},
		{ID: "least-area", Clause: "524.1, Table 52.3", Title: "Least conductor size", Explain: "The line conductor is no thinner than the least given for its use.", Source: published("trade article on Table 52.3 (analyticslkp.blogg.se)"), Circuit: leastArea},
		{ID: "volt-drop", Clause: "525.202, Table 4Ab", Title: "Voltage at the farthest lamp", Explain: iec.ExplainDrop, Source: published("T. Linsley, Basic Electrical Installation Work, pp. 301-302"), Circuit: iec.Drop},
		{ID: "disconnection", Clause: "411.3.2, 411.4.4", Title: "Earth fault disconnected in time", Explain: iec.ExplainLoop, Source: published("IET Wiring Matters 54 (2015); Table 41.1 (ericmark.talktalk.net)"), Circuit: iec.Disconnection},
		{ID: "device-alone", Clause: "411.4.5", Title: "Device disconnects by itself", Explain: iec.ExplainAlone, Source: memory("411.4.5"), Circuit: iec.DeviceAlone},
		{ID: "tt-rcd", Clause: "411.5.3, Table 41.5", Title: "RCD on a TT supply", Explain: iec.ExplainTT, Source: published("IET forum, threads 21106 and 21204"), Circuit: iec.Electrode},
		{ID: "electrode-steady", Clause: "Table 41.5, note", Title: "Earth electrode steady", Explain: "An earth electrode whose resistance is above the value of the note may not be stable.", Source: published("IET forum, thread 21204"), Circuit: electrodeSteady},
		{ID: "supply-ze", Of: other("distributors' declarations", "", "external loop impedance"), Title: "External loop impedance usual", Explain: "The external loop impedance is no more than distributors usually declare for the type of earthing.", Source: memory("distributors' declarations"), Circuit: supplyZe},
		{ID: "breaking", Clause: "434.5.1", Title: "Device can break the fault", Explain: iec.ExplainBreaking, Source: memory("434.5.1"), Circuit: iec.Breaking},
		{ID: "adiabatic-line", Clause: "434.5.2", Title: "Line survives the fault", Explain: iec.ExplainHeat, Source: memory("434.5.2"), Circuit: iec.HeatLine},
		{ID: "adiabatic-cpc", Clause: "543.1.3", Title: "Protective conductor survives the fault", Explain: iec.ExplainHeat, Source: memory("543.1.3"), Circuit: iec.HeatEarth},
		{ID: "circuit-cpc", Clause: "411.3.1.1", Title: "Protective conductor along the circuit", Explain: "A circuit to which points are added has a protective conductor to give them.", Source: memory("411.3.1.1"), Circuit: circuitEarth},
		{ID: "rcd-luminaires", Clause: "411.3.4", Title: "RCD for lighting in a dwelling", Explain: iec.ExplainLuminaires, Source: published("18th ed. changes to chapter 41 (wiring-regulations.co.uk); NICEIC, 18th edition changes, part 4"), Circuit: iec.Luminaires},
		{ID: "rcd-hidden", Clause: "522.6.202", Title: "RCD for hidden cable", Explain: "New cable hidden in a wall less than 50 mm deep, without a covering that stops nails, lies in a zone and has a 30 mA RCD.", Source: published("learntradeskills.org; NICEIC, 18th edition changes"), Circuit: hidden},
		{ID: "rcd-bathroom", Clause: "701.411.3.3", Title: "RCD for bathroom circuits", Explain: "Circuits that serve a room with a bath or shower, or pass through its zones 1 and 2, have a 30 mA RCD.", Source: published("17th edition notes (ks-electrical.com)"), Circuit: bathroom},
		{ID: "rcd-type", Clause: "531.3.3", Title: "Type of RCD", Explain: "Type AC serves only fixed equipment known to have no direct-current part in its leakage; otherwise type A or better.", Source: published("IET Wiring Matters 91 (July 2022)"), Circuit: residualType},
		{ID: "lampholder-device", Clause: "559.5.1.204", Title: "Device before lampholders", Explain: "Circuits with ordinary lampholders have an overcurrent device of at most 16 A.", Source: published("diynot.com thread 405536"), Circuit: lampholders},
		{ID: "old-sheath", Clause: "132.16", Title: "Condition of old cable", Explain: "Rubber or lead-sheathed cable is not altered or added to until it has been tested and found sound.", Source: source.Source{Authority: source.Practice, Cite: "common practice, no source"}, Circuit: oldSheath},
	}
}

func pointChecks() []rules.Check {
	return []rules.Check{
		{ID: "point-cpc", Clause: "411.3.1.1", Title: "Protective conductor at the point", Explain: iec.ExplainEarth, Source: memory("411.3.1.1"), Point: iec.PointEarth},
		{ID: "bath-ip", Clause: "701.512.2", Title: "Protection against water in a bathroom", Explain: "What stands in a zone of a room with a bath or shower keeps water out as the zone asks.", Source: memory("701.512.2"), Point: bathWater},
		{ID: "bath-zone-0", Clause: "701.55", Title: "Nothing at mains voltage in zone 0", Explain: "Inside the bath or shower basin only extra-low voltage equipment made for it may stand.", Source: memory("701.55"), Point: bathInside},
		{ID: "bath-switch", Clause: "701.512.3", Title: "Switches in a bathroom", Explain: "No switch stands in zones 0, 1 or 2, but for extra-low voltage and the insulating cord of a pull switch.", Source: memory("701.512.3"), Point: bathSwitch},
		{ID: "outside-ip", Clause: "714.512.2.105", Title: "Protection against water outside", Explain: "What stands in the open keeps rain out.", Source: memory("714.512.2.105"), Point: outsideWater},
	}
}

func readingChecks() []rules.Check {
	return []rules.Check{
		{ID: "measured-continuity", Clause: "643.2", Title: "Continuity", Explain: iec.ExplainContinuity, Source: published("professional-electrician.com, 18th edition changes to inspection and testing"), Reading: iec.Continuity},
		{ID: "measured-insulation", Clause: "643.3.2, Table 64", Title: "Insulation resistance", Explain: iec.ExplainInsulation, Source: published("T. Linsley, Basic Electrical Installation Work, pp. 356-357"), Reading: iec.Insulation},
		{ID: "insulation-look", Of: other("IET Guidance Note 3", "8th ed.", "insulation"), Title: "Insulation worth a look", Explain: "An insulation resistance that passes but is below 2 MΩ has a reason that should be looked for.", Source: published("T. Linsley, Basic Electrical Installation Work, pp. 356-357"), Reading: insulationLook},
		{ID: "measured-zs", Clause: "411.4.4, Appendix 3", Title: "Loop impedance measured", Explain: "A loop impedance measured with cold conductors is at most 0.8 of the greatest for the device.", Source: published("On-Site Guide app. 2 quoted on electriciansforums.net; NICEIC Connections, spring 2015, p. 61"), Reading: iec.LoopCold},
		{ID: "measured-zs-warm", Clause: "411.4.4", Title: "Loop impedance, brought to working temperature", Explain: iec.ExplainMeasuredZs, Source: memory("411.4.4"), Reading: loopWarm},
		{ID: "loop-agrees", Clause: "643.7.3", Title: "Loop impedance as predicted", Explain: iec.ExplainAgrees, Source: memory("643.7.3"), Reading: iec.LoopAgrees},
		{ID: "measured-ze", Of: other("distributors' declarations", "", "external loop impedance"), Title: "External loop impedance measured", Explain: "The external loop impedance is no more than distributors usually declare for the type of earthing.", Source: memory("distributors' declarations"), Reading: measuredZe},
		{ID: "rcd-time", Clause: "643.7.1, Table 3A", Title: "RCD trip time", Explain: iec.ExplainTrip, Source: published("IET Wiring Matters 91 (July 2022)"), Reading: iec.TripTime},
		{ID: "measured-fault", Clause: "434.5.1", Title: "Fault current measured", Explain: iec.ExplainBreaking, Source: memory("434.5.1"), Reading: iec.FaultMeasured},
	}
}

func workChecks() []rules.Check {
	partP := published("Part P 2013 list (wiring-regulations.co.uk); Approved Document P summary (electricaltrainingcourse.co.uk)")
	return []rules.Check{
		{ID: "edition", Clause: "introduction", Title: "Edition in force", Explain: "The work is designed to an edition in force on the day of its design.", Source: published("Electrical Safety First, Amendment 4 pocket guide page; inspectelectrical.co.uk"), Work: edition},
		{ID: "notify-england", Of: other("Building Regulations 2010 (England), as of 2013", "", "12(6A), Part P"), Title: "Notice to building control, England", Explain: "A new circuit, a new consumer unit, and work in the space by a bath or shower or in a pool or sauna room are notified.", Source: partP, Work: notifyEngland},
		{ID: "notify-wales", Of: other("Building Regulations 2010 (Wales)", "", "Schedule 4"), Title: "Notice to building control, Wales", Explain: "Additions to an existing circuit are exempt except in kitchens, special locations and special installations.", Source: published("diynot.com thread 584676 (Schedule 4 in force); woking.gov.uk (list of 2006)"), Work: notifyWales},
		{ID: "notify-scotland", Of: other("Building (Scotland) Regulations 2004", "", "regulation 5, Schedule 3"), Title: "Building warrant, Scotland", Explain: "Wiring to lighting in a house of up to two storeys needs no warrant; in flats and higher houses it does.", Source: published("Scottish Government research report, appendix 3 (gov.scot); oftec.org.uk"), Work: notifyScotland},
		{ID: "notify-northern-ireland", Of: other("Building Regulations (Northern Ireland)", "", "no equivalent of Part P"), Title: "Notice to building control, Northern Ireland", Explain: "No statutory notice of domestic electrical work is asked.", Source: published("electricalsafetyfirst.org.uk; selfbuild.ie"), Work: notifyNorthernIreland},
		{ID: "certificate", Clause: "644.1, 644.4, Appendix 6", Title: "Certificate", Explain: "An addition to one existing circuit may have a minor works record; a new circuit or consumer unit has a full certificate.", Source: published("electech.info; NICEIC on minor works certificates (learntechnique.com)"), Work: certificate},
		{ID: "asbestos", Of: other("Control of Asbestos Regulations 2012", "", "regulation 5"), Title: "Asbestos", Explain: "Before a ceiling or wall that may hold asbestos is drilled or broken, it is found out whether it does.", Source: memory("Control of Asbestos Regulations 2012, and HSE guidance"), Work: asbestos},
		{ID: "lone-working", Of: other("Management of Health and Safety at Work Regulations 1999", "", "regulation 3"), Title: "Working alone", Explain: "Work alone is assessed first; nothing is done live, and somebody knows where the person is.", Source: memory("HSE INDG73"), Work: alone},
		{ID: "ladders", Of: other("Work at Height Regulations 2005", "", "regulation 6, Schedule 6"), Title: "Work at height", Explain: "Work at height is avoided or done from something that prevents a fall; a ladder serves for short, light work.", Source: memory("HSE INDG455"), Work: ladders},
	}
}
