package cite

import "fmt"

// Get is the reference with the given key. It panics when there is none: a
// parameter that names an unknown source is a mistake in the code.
func Get(key string) Ref {
	for _, r := range Refs() {
		if r.Key == key {
			return r
		}
	}
	panic(fmt.Sprintf("cite: no reference %q; add it to refs.go", key))
}

// Refs is every reference, each once, in the order of its key. Kind says how
// far to trust the entry itself: what is from memory has to be opened before
// it is quoted as an authority.
func Refs() []Ref {
	return []Ref{
		{"acsm1984", "American College of Sports Medicine 1984, Position stand: prevention of thermal injuries during distance running; flags read in later copies", "", Source},
		{"acsm2021", "American College of Sports Medicine, Guidelines for Exercise Testing and Prescription, table 6.3; reproduced by Bushman BA 2020, ACSM's Health Fit J 24(3):6-10", "", Source},
		{"alduchov1996", "Alduchov OA, Eskridge RE 1996, Improved Magnus form approximation of saturation vapor pressure, J Appl Meteorol 35:601-609", "", Source},
		{"almond2005", "Almond CSD et al. 2005, Hyponatremia among runners in the Boston Marathon, N Engl J Med 352:1550-1556", "", Source},
		{"baker2009", "Baker LB, Stofan JR, Hamilton AA, Horswill CA 2009, Comparison of regional patch collection vs. whole body washdown for measuring sweat sodium and potassium loss during exercise, J Appl Physiol 107:887-895", "", Source},
		{"baker2016", "Baker LB et al. 2016, Normative data for regional sweat sodium concentration and whole-body sweating rate in athletes, J Sports Sci 34:358-368", "", Source},
		{"baker2017", "Baker LB 2017, Sweating rate and sweat sodium concentration in athletes, Sports Med 47(Suppl 1):111-128", "10.1007/s40279-017-0691-5", Source},
		{"baker2020", "Baker LB et al. 2020, cross-validation of regional against whole-body sweat sodium, Physiol Rep 8:e14524", "", Source},
		{"barnes2019", "Barnes KA et al. 2019, Normative data for sweating rate, sweat sodium concentration and sweat sodium loss in athletes, J Sports Sci 37:2356-2366", "", Source},
		{"bom", "Bureau of Meteorology (Australia), Thermal comfort observations: approximation to the WBGT used by the American College of Sports Medicine 1984", "", Source},
		{"buck1981", "Buck AL 1981, New equations for computing vapor pressure and enhancement factor, J Appl Meteorol 20:1527-1532; coefficients as the Liljegren model uses them", "", Source},
		{"casa2000", "Casa DJ, Armstrong LE, Hillman SK et al. 2000, NATA position statement: fluid replacement for athletes, J Athl Train 35:212-224; its worked sheet quoted from memory", "", Memory},
		{"cheuvront2002", "Cheuvront SN, Haymes EM, Sawka MN 2002, Comparison of sweat loss estimates for women during prolonged high-intensity running, Med Sci Sports Exerc 34:1344-1350", "", Source},
		{"cheuvront2015", "Cheuvront SN et al. 2015, WBGT of a weather station against that of the course, Med Sci Sports Exerc 47:1958-1964", "", Source},
		{"cheuvront2017", "Cheuvront SN, Montain SJ 2017, Myths and methodologies: making sense of exercise mass and water balance, Exp Physiol 102:1047-1053; read in the authors' own summary", "", Source},
		{"dubois1916", "DuBois D, DuBois EF 1916, A formula to estimate the approximate surface area if height and weight be known, Arch Intern Med 17:863-871", "", Memory},
		{"fao56", "Allen RG, Pereira LS, Raes D, Smith M 1998, Crop evapotranspiration, FAO Irrigation and Drainage Paper 56, equation 47", "", Memory},
		{"gagnon2013", "Gagnon D, Jay O, Kenny GP 2013, The evaporative requirement for heat balance determines whole-body sweat rate during exercise under conditions permitting full evaporation, J Physiol 591:2925-2935", "", Source},
		{"gonzalez2009", "Gonzalez RR, Cheuvront SN, Montain SJ et al. 2009, Expanded prediction equations of human sweat loss and water needs, J Appl Physiol 107:379-388", "", Source},
		{"gonzalez2012", "Gonzalez RR, Cheuvront SN, Ely BR et al. 2012, Sweat rate prediction equations for outdoor exercise with transient solar radiation, J Appl Physiol 112:1300-1310", "", Source},
		{"gum2008", "JCGM 100:2008, Evaluation of measurement data: Guide to the expression of uncertainty in measurement", "", Source},
		{"hayden2004", "Hayden G, Milne HC, Patterson MJ, Nimmo MA 2004, The reproducibility of closed-pouch sweat collection and thermoregulatory responses to exercise-heat stress, Eur J Appl Physiol 91:748-751", "", Source},
		{"hewbutler2015", "Hew-Butler T, Rosner MH, Fowkes-Godek S et al. 2015, Third international exercise-associated hyponatremia consensus, Clin J Sport Med 25:303-320", "", Source},
		{"hoffman2018", "Hoffman MD, Goulet EDB, Maughan RJ 2018, Considerations in the use of body mass change to estimate change in hydration status during a 161-kilometer ultramarathon, Sports Med 48:243-250", "10.1007/s40279-017-0782-3", Source},
		{"iom1996", "Institute of Medicine 1996, Nutritional Needs in Cold and in High-Altitude Environments, table 9-2", "", Source},
		{"iom2005", "Institute of Medicine 2005, Dietary Reference Intakes for Water, Potassium, Sodium, Chloride, and Sulfate, pp 83-88", "", Source},
		{"iso7243", "ISO 7243, Ergonomics of the thermal environment: assessment of heat stress using the WBGT index", "", Source},
		{"iso7933", "ISO 7933, Ergonomics of the thermal environment: predicted heat strain", "", Source},
		{"kenefick2018", "Kenefick RW 2018, Drinking strategies: planned drinking versus drinking to thirst, Sports Med 48(Suppl 1):31-37", "10.1007/s40279-017-0844-6", Source},
		{"keytel2005", "Keytel LR, Goedecke JH, Noakes TD et al. 2005, Prediction of energy expenditure from heart rate monitoring during submaximal exercise, J Sports Sci 23:289-297", "", Source},
		{"lara2016", "Lara B et al. 2016, Interindividual variability in sweat electrolyte concentration in marathoners, J Int Soc Sports Nutr 13:31", "", Source},
		{"liljegren2008", "Liljegren JC et al. 2008, Modeling the wet bulb globe temperature using standard meteorological measurements, J Occup Environ Hyg 5:645-655", "", Source},
		{"margaria1963", "Margaria R, Cerretelli P, Aghemo P, Sassi G 1963, Energy cost of running, J Appl Physiol 18:367-370", "", Memory},
		{"mcdermott2017", "McDermott BP, Anderson SA, Armstrong LE et al. 2017, NATA position statement: fluid replacement for the physically active, J Athl Train 52:877-895", "10.4085/1062-6050-52.9.02", Source},
		{"memory", "an order of magnitude from memory, no source opened", "", Memory},
		{"minetti2002", "Minetti AE, Moia C, Roi GS, Susta D, Ferretti G 2002, Energy cost of walking and running at extreme uphill and downhill slopes, J Appl Physiol 93:1039-1046", "10.1152/japplphysiol.01177.2001", Source},
		{"mitchell1972", "Mitchell JW, Nadel ER, Stolwijk JAJ 1972, Respiratory weight losses during exercise, J Appl Physiol 32:474-476; read as later works state it", "", Source},
		{"mosler2020", "Mosler S, Braun H, Carlsohn A et al. 2020, Fluid replacement in sports: position of the working group sports nutrition of the German Nutrition Society, Dtsch Z Sportmed 71:178-184", "10.5960/dzsm.2020.453", Source},
		{"nap1994", "Institute of Medicine 1994, Fluid Replacement and Heat Stress, National Academy Press 2094; title from memory", "", Source},
		{"nws", "US National Weather Service, Weather Prediction Center, The heat index equation (Rothfusz, SR 90-23), wpc.ncep.noaa.gov", "", Source},
		{"peronnet1991", "Peronnet F, Massicotte D 1991, Table of nonprotein respiratory quotient: an update, Can J Sport Sci 16:23-29; read as later works state it", "", Source},
		{"practice", "a rule of the trade without a published validation", "", CommonPractice},
		{"rogers1997", "Rogers G, Goodman C, Rosen C 1997, Water budget during ultra-endurance exercise, Med Sci Sports Exerc 29:1477-1481", "", Source},
		{"sawka2007", "Sawka MN, Burke LM, Eichner ER et al. 2007, ACSM position stand: exercise and fluid replacement, Med Sci Sports Exerc 39:377-390", "10.1249/mss.0b013e31802ca597", Source},
		{"shapiro1982", "Shapiro Y, Pandolf KB, Goldman RF 1982, Predicting sweat loss response to exercise, environment and clothing, Eur J Appl Physiol 48:83-96; equation as gonzalez2009 states it", "", Source},
		{"studylib7332433", "Effective hydration strategies for sweat loss, worked example, studylib.net/doc/7332433", "", Source},
		{"stull2011", "Stull R 2011, Wet-bulb temperature from relative humidity and air temperature, J Appl Meteorol Climatol 50:2267-2269", "", Source},
		{"tanaka2001", "Tanaka H, Monahan KD, Seals DR 2001, Age-predicted maximal heart rate revisited, J Am Coll Cardiol 37:153-156", "", Memory},
		{"thomas2016", "Thomas DT, Erdman KA, Burke LM 2016, Nutrition and athletic performance: joint position statement, Med Sci Sports Exerc 48:543-568", "", Source},
		{"weir1949", "Weir JB de V 1949, New methods for calculating metabolic rate with special reference to protein metabolism, J Physiol 109:1-9", "", Memory},
		{"who2012", "World Health Organization 2012, Guideline: sodium intake for adults and children", "", Source},
		{"yorkin2013", "Yorkin M et al. 2013, Accuracy and consistency of weights provided by home bathroom scales, BMC Public Health 13:1194", "", Source},
	}
}
