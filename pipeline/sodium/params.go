package sodium

import (
	"saltpan/pipeline/cite"
)

// Params is every parameter of the sodium estimate with its source.
func Params() []cite.Param {
	b := screenBands()
	out := []cite.Param{populationMean(), populationLow(), populationHigh(), b[0], b[1], b[2], screenFactor(), dayToDay(), siteError(), measured()}
	for _, s := range sites() {
		out = append(out, s.slope, s.intercept)
	}
	return out
}

// populationMean is the published mean that stands when nothing is known.
func populationMean() cite.Param {
	return cite.New(cite.Param{Name: "sodium.population-mean", Value: 35.9, U: 10.4, Unit: "mmol/L", Ref: cite.Get("baker2016"), Where: "abstract",
		Note: "506 athletes, whole body as predicted from the forearm; other published means run from 35 to 50 mmol/L, by site and method"})
}

func populationLow() cite.Param {
	return cite.New(cite.Param{Name: "sodium.population-low", Value: 450, Unit: "mg/L", Ref: cite.Get("baker2016"), Where: "abstract",
		Note: "2.5 % point of a log-normal with mean 35.9 and SD 10.4 mmol/L, rounded"})
}

func populationHigh() cite.Param {
	return cite.New(cite.Param{Name: "sodium.population-high", Value: 1380, Unit: "mg/L", Ref: cite.Get("baker2016"), Where: "abstract",
		Note: "97.5 % point of a log-normal with mean 35.9 and SD 10.4 mmol/L, rounded"})
}

// screenBands are the values for few, some and most of the five items.
func screenBands() [3]cite.Param {
	band := func(name string, mg float64, yes string) cite.Param {
		return cite.New(cite.Param{Name: "sodium.screen-" + name, Value: mg, Unit: "mg/L", Ref: cite.Get("practice"),
			Note: yes + " yes of five; low confidence, no validation was found"})
	}
	return [3]cite.Param{band("few", 500, "0-1"), band("some", 1000, "2-3"), band("most", 1500, "4-5")}
}

// screenFactor is how far a band reaches up and down from its value.
func screenFactor() cite.Param {
	return cite.New(cite.Param{Name: "sodium.screen-factor", Value: 1.72, Unit: "1", Ref: cite.Get("practice"),
		Note: "about the spread of the population itself (1.74 either way): published predictors explain only 17 to 23 % of the variance, so a screen narrows next to nothing"})
}

// dayToDay is the spread of one athlete's tests.
func dayToDay() cite.Param {
	return cite.New(cite.Param{Name: "sodium.day-to-day", U: 0.104, Unit: "mmol/mmol", Ref: cite.Get("hayden2004"), Where: "abstract",
		Note: "seven men, three identical trials at 36 °C 60 %: coefficient of variation 10.4 ± 7.4 %"})
}

// siteError is the standard error of a whole-body value predicted from a site.
func siteError() cite.Param {
	return cite.New(cite.Param{Name: "sodium.site-error", U: 7, Unit: "mmol/L", Ref: cite.Get("baker2020"), Where: "abstract",
		Note: "95 % limits of agreement of about ± 14 mmol/L after the site's equation, over 1.96; it does not shrink with more patches on one site"})
}

// measured is the range in which sweat of the whole body has been found.
func measured() cite.Param {
	return cite.New(cite.Param{Name: "sodium.measured-range", Unit: "mmol/L", Lo: 10, Hi: 100, RangeUnit: "mmol/L", Ref: cite.Get("mcdermott2017"),
		Note: "10 to 100 mEq/L; a value outside is doubted, not refused"})
}

// site is a place a patch can sit, with whole body = slope × site + intercept,
// both in mmol/L.
type site struct {
	name             string
	slope, intercept cite.Param
}

func sites() []site {
	line := func(name, key string, slope, intercept, lo, hi float64) site {
		ref := cite.Get(key)
		return site{name,
			cite.New(cite.Param{Name: "sodium." + name + "-slope", Value: slope, Unit: "mmol/mmol", Lo: lo, Hi: hi, RangeUnit: "mmol/L", Ref: ref, Where: "abstract"}),
			cite.New(cite.Param{Name: "sodium." + name + "-intercept", Value: intercept, Unit: "mmol/L", Lo: lo, Hi: hi, RangeUnit: "mmol/L", Ref: ref, Where: "abstract"})}
	}
	return []site{
		line("dorsal-forearm", "baker2016", 0.57, 11.05, 12.6, 104.8),
		line("five-site", "baker2009", 0.68, 0.44, 0, 0),
		line("thigh", "baker2009", 0.75, 11.37, 0, 0),
	}
}
