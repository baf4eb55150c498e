package sat

// heap is the variables by falling activity. All are in it but those that had
// a value when they came to its top.
type heap struct {
	activity []float64
	step     float64 // added to the activity of a variable met in a conflict
	list     []int32 // a binary heap
	place    []int32 // by variable: where in list; -1: not in it
}

// Activities are scaled down before they overflow. Old conflicts count less by
// decay with every new one.
const (
	decay        = 0.95
	tooActive    = 1e100
	scaledDownBy = 1e-100
)

func (h *heap) init() { h.step = 1 }

func (h *heap) grow(v int32) {
	h.activity = append(h.activity, 0)
	h.place = append(h.place, -1)
	h.insert(v)
}

func (h *heap) insert(v int32) {
	if h.place[v] >= 0 {
		return
	}
	h.list = append(h.list, v)
	h.up(int32(len(h.list)-1), v)
}

// pop takes out the most active variable; -1 if there is none.
func (h *heap) pop() int32 {
	if len(h.list) == 0 {
		return -1
	}
	top := h.list[0]
	last := h.list[len(h.list)-1]
	h.list = h.list[:len(h.list)-1]
	h.place[top] = -1
	if len(h.list) > 0 {
		h.down(0, last)
	}
	return top
}

// up puts v at place i or nearer the top.
func (h *heap) up(i, v int32) {
	for i > 0 {
		parent := (i - 1) / 2
		p := h.list[parent]
		if h.activity[p] >= h.activity[v] {
			break
		}
		h.list[i], h.place[p] = p, i
		i = parent
	}
	h.list[i], h.place[v] = v, i
}

// down puts v at place i or further from the top.
func (h *heap) down(i, v int32) {
	n := int32(len(h.list))
	for 2*i+1 < n {
		child := 2*i + 1
		if child+1 < n && h.activity[h.list[child+1]] > h.activity[h.list[child]] {
			child++
		}
		c := h.list[child]
		if h.activity[v] >= h.activity[c] {
			break
		}
		h.list[i], h.place[c] = c, i
		i = child
	}
	h.list[i], h.place[v] = v, i
}

// bump makes a variable more active.
func (h *heap) bump(v int32) {
	h.activity[v] += h.step
	if h.activity[v] > tooActive {
		for i := range h.activity {
			h.activity[i] *= scaledDownBy
		}
		h.step *= scaledDownBy
	}
	if h.place[v] >= 0 {
		h.up(h.place[v], v)
	}
}

func (h *heap) age() { h.step *= 1 / decay }
