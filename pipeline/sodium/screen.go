package sodium

import "saltpan/pipeline/quantity"

// Items are the five statements of the salt screen, in the order in which
// they are answered. Cramp is not among them: the evidence is against it.
func Items() []string {
	return []string{
		"White marks show on dark kit once it has dried.",
		"My sweat tastes salty.",
		"My sweat stings in my eyes or in grazes.",
		"My skin feels gritty once it has dried.",
		"I crave salty food after long runs.",
	}
}

// SafetyItems are asked apart and never counted as salt: each of them calls
// for advice from a clinician, whatever the sweat.
func SafetyItems() []string {
	return []string{
		"I have felt faint during or after a long session.",
		"I have felt ill (sick, confused or a bad headache) during or after a long session.",
		"My hands or feet have swollen during a long session.",
	}
}

// Screen is the concentration that the answers stand for: 0-1 yes 500, 2-3 yes
// 1000, 4-5 yes 1500 mg/L. Common practice, low confidence.
func Screen(yes [5]bool) quantity.Concentration {
	count := 0
	for _, y := range yes {
		if y {
			count++
		}
	}
	return quantity.MilligramsPerLitre(screenBands()[count/2].Value)
}
