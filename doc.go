// Package strapper holds no code. It is the root of the module, where the
// tests live that look at the project as a whole: who may import whom
// (arch_test.go) and the house style (style_test.go).
//
// The program is in cmd/strapper; ARCHITECTURE.md tells what each package is for.
package strapper
