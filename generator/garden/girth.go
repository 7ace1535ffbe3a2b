package garden

import (
	"regexp"
	"strconv"

	"sheaf/generator/measure"
)

var (
	// girthForm is a girth in centimetres in a column of its own, or where a size says so:
	// "12-14", "16/18 cm", "14".
	girthForm = regexp.MustCompile(`(?i)^(?:girth|stu|umfang|omtrek|circ\.?|force)?[\s:]*(\d{1,3})(?:\s*(?:-|–|/|to|bis|à|tot)\s*(\d{1,3}))?\s*(?:cm)?\s*(?:girth|stu|omtrek)?$`)
	// girthClass is how nurseries write it at the end of a size: "H., 3xv., mB, 18-20".
	girthClass = regexp.MustCompile(`(?i)(?:^|[\s,;])(\d{1,2})\s*[-–/]\s*(\d{1,2})(?:\s*cm)?(?:\s*(?:girth|stu|omtrek))?$`)
	saysGirth  = regexp.MustCompile(`(?i)girth|stu|umfang|omtrek|circ`)
)

// StemGirth is how thick the stem of a tree is in the list, all the way round: as its
// column says, or its size. Nurseries sort trees by girth in steps of two centimetres
// to 20 and of five above (European Nursery Stock Association, technical and quality
// standards; from memory), by which it is told from a height.
func (r Row) StemGirth() measure.Length {
	text, sure := r.Girth, true
	if text == "" {
		text, sure = r.Size, saysGirth.MatchString(r.Size)
	}
	m := girthForm.FindStringSubmatch(text)
	if m == nil || !sure {
		sure = false
		m = girthClass.FindStringSubmatch(text)
	}
	if m == nil {
		return measure.Length{}
	}
	low, _ := strconv.ParseFloat(m[1], 64) // the forms let only numbers through
	high := low
	if m[2] != "" {
		high, _ = strconv.ParseFloat(m[2], 64)
	}
	const thinnest, byTwo, thickest = 4, 20, 100 // cm; what is more is no nursery's
	step := high - low
	if low < thinnest || high > thickest || high < low || !sure && (step != 2 || high > byTwo) && (step != 5 || low < byTwo) {
		return measure.Length{}
	}
	return measure.Length{Low: low, High: high}
}
