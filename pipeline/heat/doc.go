// Package heat has what the air and the work ask of a body: humidity, the heat
// indices, the sweat a body has to evaporate and what the air can take.
//
//	vapour pressure, dew point   Alduchov & Eskridge 1996
//	wet bulb                     Stull 2011 (psychrometric; not the natural one)
//	WBGT                         definition, simplified form, Liljegren 2008
//	heat index                   NWS (Rothfusz)
//	required evaporation         ISO 7933 balance, running kit
//	sweat rate of soldiers       Shapiro 1982, Gonzalez 2009 and 2012
//	predicted heat strain        ISO 7933:2004
//
// Each index keeps the vapour pressure formula it was published with; they
// differ by 0.3 % and are never mixed inside one index. The sweat models end at
// about 450 W/m², which a runner of 70 kg passes at 9 km/h: beyond that they
// answer with a warning and are no estimate.
package heat
