package measure

import "testing"

// What a customary inch, foot, gallon and °F are is exact by definition (NIST SP
// 811); what is checked here is how they are rounded and where.
func TestCustomary(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		// lengths
		{"Leave 10 cm.", "Leave 4 inches."},
		{"A clump 30 cm wide.", "A clump 12 inches wide."},
		{"It reaches 2.5 m.", "It reaches 8 feet."},
		{"Cut 5 mm above the bud.", "Cut ¼ inch above the bud."},
		{"Use secateurs up to 2 cm thick, loppers to 4 cm, then a saw.", "Use secateurs up to ¾ inch thick, loppers to 1½ inches, then a saw."},
		{"Cut each stem between 30 and 45 cm.", "Cut each stem between 12 and 18 inches."},
		{"Shoots 20 to 30 cm tall.", "Shoots 8 to 12 inches tall."},
		{"New stems reach 1 to 1.5 m by autumn.", "New stems reach 3½ to 5 feet by autumn."},
		{"within 3 m of a power line", "within 10 feet of a power line"},
		{"It may take 2 months, 3 more or 5 men.", "It may take 2 months, 3 more or 5 men."},
		{"wands a metre long", "wands 3½ feet long"},
		{"It grows half a metre a year.", "It grows 20 inches a year."},
		{"A 2-metre hedge", "A 6½-foot hedge"},
		{"A 1,5 m wall", "A 5-foot wall"},
		{"several metres from the last cane", "several yards from the last cane"},
		{"Clip the tips by a few centimetres.", "Clip the tips by an inch or two."},
		{"leave several centimetres of leaf", "leave several inches of leaf"},
		// what stays is rounded up, what is merely tall is not
		{"Leave 8 to 10 cm.", "Leave 3½ to 4 inches."},
		{"Set it in an 8 cm pot, or a 20 cm one.", "Set it in a 3-inch pot, or an 8-inch one."},
		{"Give 0.9 to 1 litre each.", "Give 1 quart each."},
		{"A border 6 m long.", "A border 20 feet long."},
		{"A mat 8 cm deep.", "A mat 3 inches deep."},
		{"Cut all but 3 cm.", "Cut all but 1½ inches."},
		{"Shorten it by 3 cm.", "Shorten it by 1 inch."},
		// temperatures are levels, or differences of them
		{"Keep it at 5 to 8 °C.", "Keep it at 41 to 46 °F."},
		{"Below -5 °C it may die.", "Below 23 °F it may die."},
		{"from -10 to -5 °C", "from 14 to 23 °F"},
		{"at −20 °C", "at −4 °F"},
		{"at minus 20 °C", "at −4 °F"},
		{"It is 5 °C warmer by the wall.", "It is 9 °F warmer by the wall."},
		{"A pot is colder by 10 °C.", "A pot is colder by 18 °F."},
		{"Nights of 12 degrees Celsius", "Nights of 54 °F"},
		{"a ladder at 75 degrees", "a ladder at 75 degrees"},
		// volumes
		{"Pour one full can, about 10 litres, slowly.", "Pour one full can, about 2½ gallons, slowly."},
		{"Give 20 litres a week.", "Give 5½ gallons a week."},
		{"Trickle 5 to 10 litres over the crown.", "Trickle 1½ to 2½ gallons over the crown."},
		{"a 10-litre can", "a 2½-gallon can"},
		{"Give it 2 L.", "Give it 2 quarts."},
		{"half a litre", "1 pint"},
		{"5 ml", "¼ fl oz"},
		{"One barrow of 75 litres covers about 1 square metre at 7.5 cm.", "One barrow of 2½ cubic feet covers about 11 square feet at 3 inches."},
		{"Old clumps hold many litres of straw.", "Old clumps hold many gallons of straw."},
		// an amount for an amount
		{"a bed about 25 litres a square metre each week", "a bed about 6 gallons for each 10 square feet each week"},
		{"about 2 litres for each centimetre of trunk thickness", "about 1½ gallons for each inch of trunk thickness"},
		{"70 g a square metre", "2 oz a square yard"},
		{"The minutes are for 1 running metre.", "The minutes are for 1 running yard."},
		{"One plant in the list is 1 running metre.", "One plant in the list is 3¼ running feet."},
		// weights and areas
		{"5 kg", "11 lb"}, {"Order 3200 litres.", "Order 4 cubic yards."},
		{"One watering takes 300 to 400 litres.", "One watering takes 79 to 106 gallons."},
		{"100 g", "3½ oz"}, {"14 m²", "151 square feet"}, {"2 m³", "2.6 cubic yards"}, {"8 km", "5 miles"}, {"2 ha", "4.9 acres"},
		// nothing to turn
		{"Cut 3 in above.", "Cut 3 in above."}, {"", ""}, {"Group C 5.", "Group C 5."},
	} {
		if got := plain(Customary(c.in)); got != c.want {
			t.Errorf("%q\n gives %q\n want %q", c.in, got, c.want)
		}
	}
	for _, s := range []string{"Leave 4 in.", "5½ gallons", "41 °F"} {
		if got := Customary(s); got != s {
			t.Errorf("%q was turned again, to %q", s, got)
		}
	}
}
