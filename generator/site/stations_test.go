package site

// Monthly normals of real places, for tests. Unless a row says otherwise they
// are °C, computed from open data of the institute named, means of 1991-2020.

type station struct {
	name     string
	latitude float64
	normals  Normals
}

func (s station) site() Site { return Site{Latitude: s.latitude, Normals: &s.normals} }

type year = [12]float64

// fahrenheit turns normals in °F into °C.
func fahrenheit(min, max year) Normals {
	for i := range min {
		min[i], max[i] = celsius(min[i]), celsius(max[i])
	}
	return Normals{Min: min, Max: max}
}

// meanOnly is for places of which the monthly means alone are known.
func meanOnly(mean year) Normals { return Normals{Min: mean, Max: mean} }

var (
	// Met Office historic station series (Open Government Licence).
	heathrow    = station{"Heathrow", 51.479, Normals{Max: year{8.4, 9.0, 11.7, 15.0, 18.4, 21.6, 23.9, 23.4, 20.2, 15.8, 11.5, 8.8}, Min: year{2.7, 2.6, 4.1, 6.0, 9.1, 12.0, 14.2, 14.1, 11.6, 8.8, 5.3, 3.1}}}
	oxford      = station{"Oxford", 51.761, Normals{Max: year{8.0, 8.6, 11.3, 14.4, 17.7, 20.7, 23.0, 22.5, 19.4, 15.1, 10.9, 8.2}, Min: year{2.4, 2.3, 3.6, 5.3, 8.2, 11.1, 13.1, 13.0, 10.7, 8.0, 4.9, 2.6}}}
	cambridge   = station{"Cambridge", 52.245, Normals{Max: year{7.7, 8.3, 11.0, 14.1, 17.4, 20.4, 23.1, 22.9, 19.6, 15.1, 10.7, 8.0}, Min: year{1.9, 1.8, 3.1, 4.7, 7.4, 10.5, 12.6, 12.6, 10.5, 7.9, 4.5, 2.2}}}
	manchester7 = station{"Manchester 1971-2000", 53.356, Normals{Max: year{6.9, 7.3, 9.5, 11.9, 15.7, 18.0, 20.3, 20.1, 17.1, 13.5, 9.6, 7.6}, Min: year{1.5, 1.6, 3.1, 4.5, 7.4, 10.1, 12.4, 12.1, 10.0, 7.2, 3.9, 2.3}}}
	durham      = station{"Durham", 54.768, Normals{Max: year{6.9, 7.8, 9.9, 12.5, 15.4, 18.0, 20.3, 19.9, 17.4, 13.5, 9.7, 7.1}, Min: year{1.3, 1.4, 2.5, 4.1, 6.5, 9.3, 11.3, 11.3, 9.2, 6.5, 3.6, 1.4}}}
	leuchars    = station{"Leuchars", 56.377, Normals{Max: year{6.8, 7.7, 9.6, 11.8, 14.5, 17.2, 19.3, 19.1, 16.8, 13.2, 9.5, 7.0}, Min: year{0.7, 1.0, 2.1, 3.8, 6.1, 9.1, 10.9, 10.7, 9.0, 6.2, 2.9, 0.9}}}
	braemar     = station{"Braemar", 57.006, Normals{Max: year{4.8, 5.2, 7.2, 10.1, 13.7, 16.0, 18.0, 17.4, 15.0, 10.9, 7.4, 5.0}, Min: year{-1.2, -1.1, -0.2, 1.4, 3.7, 7.0, 8.8, 8.4, 6.5, 3.8, 0.9, -1.3}}}
	lerwick     = station{"Lerwick", 60.139, Normals{Max: year{6.1, 5.8, 6.7, 8.4, 10.6, 12.6, 14.4, 14.7, 13.0, 10.4, 8.1, 6.6}, Min: year{2.2, 1.8, 2.4, 3.8, 5.6, 8.0, 10.1, 10.5, 9.1, 6.6, 4.3, 2.5}}}
	camborne    = station{"Camborne", 50.218, Normals{Max: year{9.2, 9.1, 10.2, 12.1, 14.5, 16.9, 18.7, 19.0, 17.5, 14.6, 11.8, 9.9}, Min: year{4.9, 4.6, 5.4, 6.6, 8.8, 11.2, 13.2, 13.4, 12.0, 10.0, 7.4, 5.6}}}
	armagh      = station{"Armagh", 54.352, Normals{Max: year{7.8, 8.6, 10.4, 13.0, 15.9, 18.2, 19.7, 19.4, 17.3, 13.7, 10.3, 8.0}, Min: year{2.2, 2.0, 3.1, 4.6, 7.0, 9.8, 11.7, 11.6, 9.7, 7.0, 4.3, 2.4}}}
	eskdalemuir = station{"Eskdalemuir", 55.311, Normals{Max: year{5.2, 5.9, 7.8, 10.8, 14.1, 16.4, 18.2, 17.7, 15.3, 11.7, 8.0, 5.5}, Min: year{-0.1, -0.2, 0.8, 2.4, 4.8, 7.9, 9.6, 9.5, 7.4, 4.8, 2.0, -0.2}}}

	// Met Office normals of 1981-2010 as printed in a mirror of Wikipedia,
	// liquisearch.com/geography_of_greater_manchester/climate.
	manchester = station{"Manchester 1981-2010", 53.356, Normals{Max: year{7.3, 7.6, 10.0, 12.6, 16.1, 18.6, 20.6, 20.3, 17.6, 13.9, 10.0, 7.4}, Min: year{1.7, 1.6, 3.3, 4.9, 7.7, 10.5, 12.6, 12.4, 10.3, 7.4, 4.2, 1.8}}}

	// Bolin Centre series; monthly means.
	stockholm6 = station{"Stockholm 1961-1990", 59.34, meanOnly(year{-3.57, -3.79, -0.79, 3.71, 9.41, 14.52, 16.24, 15.47, 11.53, 7.25, 2.10, -1.63})}
	stockholm8 = station{"Stockholm 1981-2010", 59.34, meanOnly(year{-2.40, -2.56, 0.12, 4.81, 10.01, 14.12, 17.29, 16.42, 12.08, 7.26, 2.47, -0.98})}
	// DWD 1691, 2001-2010, data set goe of the R package vegperiod; monthly means.
	goettingen = station{"Goettingen", 51.5, meanOnly(year{2.66, 3.28, 5.82, 8.24, 13.16, 15.21, 16.77, 17.11, 14.31, 9.77, 4.82, 2.77})}
	// 1998-2009, data set KA_weather of the R package chillR.
	kleinAltendorf = station{"Klein-Altendorf", 50.6, Normals{Min: year{-0.1, 0.3, 2.1, 4.5, 8.3, 10.6, 12.3, 12.1, 9.6, 6.4, 3.1, 0.3}, Max: year{5.9, 7.3, 10.8, 15.7, 20.7, 23.6, 25.0, 24.4, 20.5, 15.1, 9.7, 5.8}}}
	// NOAA 2012-2015, weather.csv of the npm package vega-datasets.
	newYork = station{"New York 2012-2015", 40.78, Normals{Min: year{-3.4, -3.5, 0.8, 6.3, 12.7, 17.5, 21.5, 20.3, 16.6, 11.2, 4.2, 2.8}, Max: year{4.4, 4.2, 9.1, 15.8, 21.4, 25.9, 29.5, 28.5, 25.3, 19.0, 12.1, 9.3}}}
	// NOAA USC00190120, 1981-2010, means of the daily normals (repo dgarant/climate-normals).
	amherst = station{"Amherst MA", 42.39, fahrenheit(
		year{8.2, 10.6, 19.6, 31.6, 42.3, 51.6, 56.7, 54.4, 46.4, 34.5, 26.9, 15.4},
		year{29.9, 34.3, 42.1, 55.6, 67.8, 75.8, 80.1, 78.7, 71.5, 59.3, 47.3, 35.4})}
	// NOAA 1981-2010, these four from memory.
	minneapolis = station{"Minneapolis", 44.88, fahrenheit(
		year{7.5, 12.8, 24.3, 37.2, 48.9, 58.8, 64.1, 61.8, 52.4, 39.7, 26.2, 12.3},
		year{23.7, 28.9, 41.3, 57.8, 69.4, 78.8, 83.4, 80.5, 71.7, 58.0, 41.2, 27.1})}
	boston = station{"Boston", 42.36, fahrenheit(
		year{22.2, 24.7, 31.1, 40.6, 49.9, 59.5, 65.4, 64.6, 57.4, 46.5, 38.0, 28.2},
		year{35.8, 38.7, 45.4, 55.6, 66.0, 75.9, 81.4, 79.6, 72.4, 61.4, 51.5, 41.2})}
	atlanta = station{"Atlanta", 33.63, fahrenheit(
		year{34.3, 37.7, 44.1, 51.5, 60.3, 68.2, 71.3, 70.7, 64.8, 53.9, 44.5, 36.6},
		year{52.3, 56.6, 64.6, 72.5, 79.9, 86.4, 89.1, 88.1, 82.2, 72.7, 63.6, 54.0})}
	portland = station{"Portland OR", 45.59, fahrenheit(
		year{35.8, 36.3, 39.6, 43.1, 48.6, 53.6, 57.8, 58.0, 53.1, 46.0, 40.5, 35.2},
		year{46.8, 50.7, 56.0, 60.6, 67.1, 72.9, 79.6, 80.0, 75.0, 63.3, 52.0, 45.2})}

	// Bureau of Meteorology 086071, all years, from public copies.
	melbourne = station{"Melbourne", -37.81, Normals{Max: year{25.9, 25.8, 23.9, 20.3, 16.7, 14.1, 13.5, 15.0, 17.2, 19.7, 22.0, 24.2}, Min: year{14.3, 14.6, 13.2, 10.8, 8.7, 6.9, 6.0, 6.7, 8.0, 9.5, 11.2, 12.9}}}
	// Bureau of Meteorology, about 2008-2017, data set weatherAUS of the R package rattle.data.
	canberra = station{"Canberra", -35.3, Normals{Min: year{14.1, 13.6, 11.2, 6.8, 2.3, 1.5, 0.3, 0.9, 3.1, 5.8, 10.0, 12.0}, Max: year{30.0, 27.7, 25.3, 20.6, 16.7, 13.5, 12.4, 14.1, 17.7, 21.2, 25.3, 26.9}}}
	ballarat = station{"Ballarat", -37.5, Normals{Min: year{11.9, 12.3, 10.7, 7.9, 5.4, 3.5, 3.4, 3.7, 4.9, 6.3, 8.6, 9.7}, Max: year{26.8, 26.3, 23.0, 18.4, 14.2, 11.2, 10.4, 11.7, 14.4, 17.8, 21.3, 23.9}}}
	ginini   = station{"Mount Ginini", -35.5, Normals{Min: year{9.8, 9.2, 7.3, 4.0, 1.0, -0.9, -2.2, -2.0, 0.3, 2.8, 6.0, 7.0}, Max: year{20.6, 19.1, 16.1, 11.4, 7.5, 4.2, 2.6, 4.0, 8.6, 12.4, 15.8, 17.5}}}
	// Sydney Observatory Hill 1981-2010, sample data of Climpact.
	sydney = station{"Sydney", -33.86, Normals{Max: year{26.5, 26.5, 25.4, 23.3, 20.6, 18.0, 17.4, 18.9, 21.2, 22.8, 23.7, 25.5}, Min: year{19.6, 19.7, 18.1, 15.3, 12.5, 9.7, 8.7, 9.7, 12.0, 14.4, 16.3, 18.3}}}
	// 1981-2010, data set MaquehueTemuco of the R package hydroTSM.
	temuco = station{"Temuco", -38.77, Normals{Min: year{8.9, 8.7, 7.8, 6.3, 5.7, 4.8, 3.8, 4.0, 4.3, 5.7, 7.0, 8.5}, Max: year{24.3, 25.0, 22.5, 18.0, 14.3, 11.9, 11.7, 13.3, 15.4, 17.4, 19.5, 22.1}}}
	// Airport 1961-1990, from memory.
	capeTown = station{"Cape Town", -33.97, Normals{Max: year{26.1, 26.5, 25.4, 23.0, 20.3, 18.1, 17.5, 17.8, 19.2, 21.3, 23.5, 24.9}, Min: year{15.7, 15.6, 14.2, 11.9, 9.4, 7.8, 7.0, 7.5, 8.7, 10.6, 13.2, 14.9}}}
)
