package generator

import (
	"strings"
	"testing"
)

// TestMonkshoodWarnsInEveryJob: the poison of monkshood goes through skin, so each
// task that touches it, be it watering, asks for gloves, a wash and a distance
// from food (Royal Horticultural Society, advice 524, potentially harmful plants).
func TestMonkshoodWarnsInEveryJob(t *testing.T) {
	_, l, _ := shipped(t, nil)
	seen := 0
	for _, e := range l.Entries {
		if e.Name.Value.Genus != "Aconitum" {
			continue
		}
		for _, task := range tasks(t, l, e, cambridge(), "GB", "2027-03-20", 3) {
			seen++
			text := strings.Join(task.Cautions, " ")
			for _, word := range []string{"gloves", "wash your hands", "food", "skin"} {
				if !strings.Contains(text, word) {
					t.Errorf("%s: %s does not warn of %q: %q", e.File.Path, task.Job.Name.Value, word, task.Cautions)
				}
			}
		}
	}
	if seen < 4 {
		t.Errorf("%d tasks of monkshood", seen)
	}
}
