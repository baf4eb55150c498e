package change

import "strapper/kit"

func old(k *kit.Cable) bool { return k.Palette == kit.OldColours }

// says reports whether the colour of a core says already what net it carries.
func (s *ground) says(w, n int) bool {
	colour, kind := s.wires[w].core.Colour, s.cables[s.wires[w].cable].kind
	if s.nets[n].neutral {
		return colour == kit.Blue && !old(kind) || old(kind) && colour == kit.Black
	}
	return colour == kit.Brown || old(kind) && colour == kit.Red
}
