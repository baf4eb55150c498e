package route_test

import (
	"fmt"
	"testing"

	"strapper/route"
)

func TestLook(t *testing.T) {
	h := build(t, twoStoreys())
	f := finder(t, h)
	k := cable(t, "3ce-1.0")
	run := func(a, b string) route.Run {
		return route.Run{ID: a + "-" + b, From: a, To: b, Kind: k, Tails: [2]route.MM{200, 300}}
	}
	p := f.Plan([]route.Run{run("hall", "landing"), run("landing", "lamp"), run("lounge", "point"), run("hall", "point"), run("lounge", "lamp")}, route.Options{Waste: 10})
	for _, c := range p.Runs {
		fmt.Println("=====", c.Run, c.Front, c.Exact, c.None, c.Surface)
		for _, r := range c.Routes {
			fmt.Println("--", r.Because, r.Length, r.OffBy, r.Cut, r.Shop, "min", r.MinutesBest, r.Minutes, r.MinutesMost, "mess", r.Mess, "opened", r.Opened, "clips", r.Clips)
			for i, s := range r.Steps {
				fmt.Println(i+1, s.Text, s.Minutes, s.Tool)
			}
			for _, w := range r.WhatIf {
				fmt.Printf("if %s (%v): %s\n   stay: %s (%d)\n   other: %s (+%d)\n", w.What, w.Likely, w.Do, w.Stay, w.Minutes, w.Other, w.More)
			}
			for _, s := range r.Stretches {
				fmt.Println("   ", s.Space, s.From, s.To, s.Length, s.Zone, s.Method, s.Surrounded, s.WallID)
			}
		}
	}
	fmt.Printf("%+v\n", p.Together)
	for _, f := range p.Findings {
		fmt.Println(f)
	}
}
