package site

// ColdestNight estimates the lowest night of an average winter in °C from monthly
// normals: a regression on the mean minimum of the coldest month, the year's range
// of monthly means and that month's daily range, over the stations of the German
// weather service's CLIMAT reports of 2003 to 2020. Its standard error is 2.7 °C.
func (n *Normals) ColdestNight() float64 {
	mean := func(m int) float64 { return (n.Min[m] + n.Max[m]) / 2 }
	cold, warm := 0, 0
	for m := range 12 {
		if mean(m) < mean(cold) {
			cold = m
		}
		if mean(m) > mean(warm) {
			warm = m
		}
	}
	return -9.45 + 1.198*n.Min[cold] + 0.011*(mean(warm)-mean(cold)) + 0.070*(n.Max[cold]-n.Min[cold])
}
