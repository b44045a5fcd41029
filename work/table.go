package work

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"evenstead/data"
)

// Find returns the row of a task in a table of work. The error names the tasks
// that the table has.
func Find(rows []data.Work, task string) (data.Work, error) {
	i := slices.IndexFunc(rows, func(r data.Work) bool { return r.Task == task })
	if i < 0 {
		return data.Work{}, fmt.Errorf("no time is given for the task %q: the table has %s", task, tasks(rows))
	}
	return rows[i], nil
}

// Hours returns the time of an amount of a task [h], counted in the row's unit.
func Hours(rows []data.Work, task string, amount float64) (float64, error) {
	r, err := Find(rows, task)
	if err != nil {
		return 0, err
	}
	if h := r.Hours * amount; h >= 0 && !math.IsInf(h, 0) {
		return h, nil
	}
	return 0, fmt.Errorf("task %q: %g x %g h a %s is not a time: check the amount and the table", task, amount, r.Hours, r.Unit)
}

func tasks(rows []data.Work) string {
	if len(rows) == 0 {
		return "no tasks"
	}
	names := make([]string, len(rows))
	for i, r := range rows {
		names[i] = r.Task
	}
	slices.Sort(names)
	return strings.Join(slices.Compact(names), ", ")
}
