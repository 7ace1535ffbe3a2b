package measure

// The forms in which quantities are written, as regular expressions that
// editors understand too.

// LengthForm is what [ParseLength] reads.
func LengthForm() string { return lengthForm.String() }

// AreaForm is what [ParseArea] reads.
func AreaForm() string { return areaForm.String() }

// MinutesForm is what [ParseMinutes] reads.
func MinutesForm() string { return spanForm.String() }

// EveryForm is what [ParseEvery] reads.
func EveryForm() string { return everyForm.String() }

// YearForm is what [ParseYear] reads.
func YearForm() string { return yearForm.String() }
