// The waiting list: buckets by cost, first in first out within one.

package explore

import "container/heap"

// queue hands out nodes by cost, and in the order of arrival among equal costs.
type queue struct {
	buckets map[int32]*fifo
	costs   costHeap // of the buckets that are not empty
}

// push adds a node.
func (q *queue) push(id, cost int32) {
	b := q.buckets[cost]
	if b == nil {
		b = &fifo{}
		q.buckets[cost] = b
	}
	if b.empty() {
		heap.Push(&q.costs, cost)
	}
	b.push(id)
}

// pop takes the first node of least cost.
func (q *queue) pop() (id int32, ok bool) {
	if len(q.costs) == 0 {
		return 0, false
	}
	cost := q.costs[0]
	b := q.buckets[cost]
	id = b.pop()
	if b.empty() {
		heap.Pop(&q.costs)
		delete(q.buckets, cost)
	}
	return id, true
}

// fifo is a queue of nodes.
type fifo struct {
	items []int32
	head  int
}

func (f *fifo) empty() bool { return f.head == len(f.items) }

func (f *fifo) push(id int32) {
	if f.head > 1024 && 2*f.head > len(f.items) {
		n := copy(f.items, f.items[f.head:])
		f.items, f.head = f.items[:n], 0
	}
	f.items = append(f.items, id)
}

func (f *fifo) pop() int32 {
	id := f.items[f.head]
	f.head++
	return id
}

// costHeap is a heap of distinct costs, for container/heap.
type costHeap []int32

func (h costHeap) Len() int           { return len(h) }
func (h costHeap) Less(i, j int) bool { return h[i] < h[j] }
func (h costHeap) Swap(i, j int)      { h[i], h[j] = h[j], h[i] }

// Push adds a cost.
func (h *costHeap) Push(x any) { *h = append(*h, x.(int32)) }

// Pop takes the last one.
func (h *costHeap) Pop() any {
	old := *h
	last := old[len(old)-1]
	*h = old[:len(old)-1]
	return last
}
