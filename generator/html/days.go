package html

import (
	"html/template"
	"strconv"
	"unicode/utf8"

	"sheaf/generator/booklet"
	"sheaf/generator/draw"
	"sheaf/generator/figure"
)

// The garden days over the chart of a year: a bar with a number for each, which
// leads to its page.

// Lengths in millimetres of the strip. A lane is 24 pixels or more wherever the
// chart is at its least width (WCAG 2.2, 2.5.8), and so is the room for a finger.
const (
	dayLane, dayBar = 9.0, 1.6
	dayFigure       = 13.0 // points
	dayFinger       = 9.0
)

// DayMarks paints the garden days of a year at their windows.
func (p *page) DayMarks(c booklet.Chart) template.HTML {
	p.spend(drawnSteps + stripSteps*len(c.Days))
	spans := make([][2]float64, len(c.Days))
	bars := make([][2]float64, len(c.Days))
	for i, d := range c.Days {
		from, to := d.From*stripWidth, d.To*stripWidth
		to = min(max(to, from+0.8), stripWidth)
		bars[i] = [2]float64{min(from, to-0.8), to}
		wide := max(to-from, dayFinger)
		left := min(max((from+to-wide)/2, 0), stripWidth-wide)
		spans[i] = [2]float64{left, left + wide}
	}
	lanes, n := figure.Lanes(spans, 0.5)
	w := svgWriter{vars: p.vars}
	w.str(`<svg viewBox="0 0 `)
	w.num(stripWidth)
	w.str(" ")
	w.num(float64(n) * dayLane)
	w.str(`" role="group"`)
	w.str(` aria-label="`)
	w.text(p.say("chart.days"))
	w.str(`">`)
	for i, d := range c.Days {
		href := p.Href(d.ID)
		if href != "" {
			w.str(`<a href="`)
			w.text(href)
			w.str(`" aria-label="`)
			w.text(d.Label)
			w.str(`">`)
		}
		w.str("<title>")
		w.text(d.Label)
		w.str("</title>")
		top := float64(lanes[i]) * dayLane
		w.str(`<rect fill-opacity="0"`)
		w.attr("x", spans[i][0])
		w.attr("y", top)
		w.attr("width", spans[i][1]-spans[i][0])
		w.attr("height", dayLane)
		w.str(`/><rect`)
		w.attr("x", bars[i][0])
		w.attr("y", top+dayLane-dayBar-0.6)
		w.attr("width", bars[i][1]-bars[i][0])
		w.attr("height", dayBar)
		w.color("fill", p.palette.Ink)
		w.str("/>")
		number := strconv.Itoa(d.Number)
		half := float64(utf8.RuneCountInString(number)) * 0.3 * dayFigure * mmPerPoint
		w.label(&draw.Label{X: min(max((spans[i][0]+spans[i][1])/2, half), stripWidth-half), Y: top + dayLane - dayBar - 1.6, Face: draw.Bold,
			Size: dayFigure, Anchor: draw.Middle, Text: number, Color: p.palette.Ink})
		if href != "" {
			w.str("</a>")
		}
	}
	w.str("</svg>")
	return template.HTML(w.b.String())
}
