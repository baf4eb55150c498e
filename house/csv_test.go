package house

import (
	"reflect"
	"strings"
	"testing"
)

func TestReadOutlines(t *testing.T) {
	want := []DraftRoom{
		{ID: "hall", Title: "Hall", Outline: []Point{{0, 0}, {0, 4500}, {2000, 4500}}},
		{ID: "front-room", Title: "Front room", Storey: "first", Outline: []Point{{2088, 0}, {2088, 4500}, {5588, 4500}}},
	}
	for name, text := range map[string]string{
		"millimetres":     "room,storey,x mm,y mm\nHall,,0,0\nHall,,0,4500\nHall,,2000,4500\nFront room,first,2088,0\nFront room,first,2088,4500\nFront room,first,5588,4500\n",
		"metres":          "room,x (m),y (m),storey,note\nHall,0,0,,x\nHall,0,4.5,,\nHall,2,4.5,,\nFront room,2.088,0,first,\nFront room,2.088,4.5,first,\nFront room,5.588,4.5,first,\n",
		"units in cells":  "room,x,y,storey\nHall,0 m,0 m,\nHall,0 mm,450 cm,\nHall,2 m,4.5 m,\nFront room,2088 mm,0 m,first\nFront room,2.088 m,4.5 m,first\nFront room,5.588 m,4.5 m,first\n",
		"decimal commas":  "\uFEFFroom;x_m;y_m;storey\r\nHall;0;0;\r\nHall;0;4,5;\r\nHall;2;4,5;\r\nFront room;2,088;0;first\r\nFront room;2,088;4,5;first\r\nFront room;5,588;4,5;first\r\n",
		"comments, mixed": "room,x mm,y mm,storey\n# surveyed with a laser\nHall,0,0,\nFront room,2088,0,first\nHall,0,4500,\nFront room,2088,4500,first\nHall,2000,4500,\nFront room,5588,4500,first\n",
	} {
		got, err := ReadOutlines("plan.csv", []byte(text))
		if err != nil {
			t.Errorf("%s: %v", name, err)
		} else if !reflect.DeepEqual(got, want) {
			t.Errorf("%s: %+v", name, got)
		}
	}
}

// Every mistake stands at its line and column, counted by hand in the text.
func TestMistakesInOutlines(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"", "plan.csv:1:1: the table is empty"},
		{"room,x,z\n", "plan.csv:1:1: the header lacks room, x or y"},
		{"room,x ft,y mm\n", `plan.csv:1:6: "ft" is not a unit of length; write mm, cm or m`},
		{"room,x mm,y mm\nhall,0,0\nhall,0,wide\n", `plan.csv:3:8: "wide" is not a length`},
		{"room,x,y\nhall,0,0 mm\n", `plan.csv:2:6: "0" has no unit; write the unit in the header`},
		{"room,x mm,y mm\nhall,0\n", "plan.csv:2:1: the row has only 2 columns"},
		{"room,x mm,y mm\n,0,0\n", "plan.csv:2:1: the row names no room"},
		{"room,x mm,y mm\nhall,0,0\nhall,0,5\n", "plan.csv:3:1: room hall has only 2 corners; give at least three rows"},
		{"room,x mm,y mm\nhall,1000001,0\n", "plan.csv:2:6: \"1000001\" is not a length"},
		{"room,x mm,y mm\nhall,1001 m,0\n", "plan.csv:2:6: 1001 m is too far away"},
		{"room,x mm,y mm\nha\"ll,1,0\n", "plan.csv:2:3: the row cannot be read"},
	} {
		_, err := ReadOutlines("plan.csv", []byte(c.text))
		if err == nil || !strings.HasPrefix(err.Error(), c.want) {
			t.Errorf("%q: %v, want %s", c.text, err, c.want)
		}
	}
	_, err := ReadOutlines("plan.csv", []byte("room,x mm,y mm\nhall,a,0\nhall,0,b\n"))
	if err == nil || len(strings.Split(err.Error(), "\n")) != 2 {
		t.Errorf("two mistakes: %v", err)
	}
}

// Any text gives rooms or mistakes with their place; rooms can be tried as a
// house without a panic.
func FuzzReadOutlines(f *testing.F) {
	f.Add([]byte("room,x mm,y mm\nhall,0,0\nhall,0,4500\nhall,2000,4500\n"))
	f.Add([]byte("room;x_m;y_m;storey\nHall;0;0;\nHall;0;4,5;\nHall;2;4,5;\n"))
	f.Add([]byte("room,x,y\n\"a\nb\",1 m,2 m\n"))
	f.Add([]byte("x,y,room\n1e9 m,-1e308 mm,r\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		rooms, err := ReadOutlines("f.csv", text)
		if err != nil {
			if rooms != nil || !strings.HasPrefix(err.Error(), "f.csv:") {
				t.Fatalf("%v with %v", rooms, err)
			}
			return
		}
		if len(rooms) > 12 { // overlap is tried for every pair
			rooms = rooms[:12]
		}
		d := &Draft{Rooms: rooms}
		for i := range d.Rooms {
			if len(d.Rooms[i].Outline) > 50 {
				return
			}
			d.Rooms[i].Storey = ""
		}
		if _, _, err := d.Assemble(); err != nil {
			t.Fatal(err)
		}
	})
}
