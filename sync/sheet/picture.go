package sheet

// Pictures lists the line drawings that a step may name.
var Pictures = []string{"stands", "chocks", "wheel_nuts", "strut", "spring_arm", "wishbone", "beam", "live_axle", "leaf", "hub_held", "hose",
	"adapter", "level_rim", "tape_height", "tape_toe", "lower", "settle", "bench", "lock_to_lock"}
