package pipeline

// The stages, in the order in which a session passes them.
//
//	stage    | package  | equation                                                  | source
//	session  | session  | copies share more than half; pieces joined within 15 min  | own rules, stated at the line
//	match    | match    | gap density x mass density against the background         | Fellegi & Sunter 1969 (two thresholds)
//	effort   | effort   | ACSM level cost + Minetti grade cost; Keytel as second      | ACSM 2021; Minetti 2002; Keytel 2005
//	heat     | heat     | weather, note, watch by trust; vapour pressure and indices  | Alduchov & Eskridge 1996; Liljegren 2008; ISO 7933
//	balance  | balance  | (before - after) + in - out - non-sweat mass              | Baker 2017 table 3; Cheuvront & Montain 2017
//	sodium   | sodium   | concentration x sweat loss                                | Baker 2009, 2016; Lara 2016; common practice
//	flags    | flags    | limits                                                    | ACSM 2007, NATA 2017, Baker 2016
//	(data)   | simulate | the balance run backwards from a known sweat loss         | Cheuvront & Montain 2017; Margaria 1963
//
// simulate makes seasons with known truth for tests and the demo; no stage imports it.
