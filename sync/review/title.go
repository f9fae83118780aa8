package review

import "strutcard/calc/lang"

// titles name the rules where their findings are listed together.
var titles = map[string]string{
	"chain_gap":        "A phone's record does not hold",
	"clock_back":       "A clock went back",
	"newer_app":        "Entries of a newer app",
	"raised":           "Raised by a reviewer",
	"air_final":        "Final with an axle up",
	"off_torque":       "Off its torque",
	"not_final":        "Not final",
	"self_released":    "Hold point released by the installer",
	"mentor_here":      "Mentor on the installer's own phone",
	"override":         "Lift check overridden",
	"out_of_target":    "Out of target",
	"sides_apart":      "Left and right apart",
	"odd_reading":      "Odd reading kept",
	"stale_reading":    "Finished on a reading that no longer holds",
	"no_reading":       "Reading missing",
	"reused":           "One-use fastener used again",
	"own_torque":       "Torque looked up by the installer",
	"unverified":       "Number that nobody compared with its source",
	"no_wrench":        "No wrench for the torque",
	"wrench_range":     "Out of the wrench's range",
	"wrench_unchecked": "Wrench without a check",
	"wrench_twice":     "Wrench range given late",
	"part_short":       "Part short or damaged",
	"skipped":          "Step skipped",
	"withdrawn_sheet":  "Went on with a withdrawn sheet",
	"hurried":          "Pass faster than hands",
	"fast_step":        "Step faster than hands",
	"clock_jump":       "More than a day within a step",
	"weak_equipment":   "Jack or stands too weak, or unknown",
	"passed_over":      "Question overridden",
	"changed_answer":   "Answer changed from no to yes",
	"no_photo":         "Photo missing",
	"different":        "Not as left before a pause",
	"off_preset":       "Perch off its preset",
	"recheck_due":      "Check after driving due",
}

// Title names a rule for people; "" when there is no such rule.
func Title(rule string) string { return lang.T(titles[rule]) }
