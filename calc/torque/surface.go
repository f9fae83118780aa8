package torque

import "strutcard/calc/lang"

// Surface is the state of a thread.
type Surface string

const (
	NotSaid    Surface = ""
	Dry        Surface = "dry" // clean, nothing on it
	Oiled      Surface = "oiled"
	AntiSeize  Surface = "anti_seize"
	Threadlock Surface = "threadlock"
	Coated     Surface = "coated" // new, as delivered with its coating
)

// Words is the state as people read it.
func (s Surface) Words() string {
	switch s {
	case NotSaid:
		return lang.T("not said")
	case Dry:
		return lang.T("clean and dry")
	case Oiled:
		return lang.T("oiled")
	case AntiSeize:
		return lang.T("coated with anti-seize")
	case Threadlock:
		return lang.T("wet with threadlock")
	case Coated:
		return lang.T("new with its coating")
	}
	return ""
}

// Surfaces lists what a person can choose from.
func Surfaces() []Surface { return []Surface{Dry, Oiled, AntiSeize, Threadlock, Coated} }

// slips reports whether the state is more slippery than a dry thread.
func (s Surface) slips() bool { return s == Oiled || s == AntiSeize }

// Warning is a sentence about a thread that is not in the state that its torque
// is meant for, or about a state that is not known, or "". It never changes a
// torque: sources differ on how much, and wheel threads are specified dry.
func Warning(is, meant Surface) string {
	switch {
	case is.Words() == "" || meant.Words() == "":
		return lang.T("The state of the thread is not one of those known here. Choose one, or say that it is not known.")
	case is == NotSaid:
		return lang.T("It is not said what is on this thread. Look at it before you tighten: oil or paste lets the same torque pull much harder. Do not change the torque.")
	case meant == NotSaid:
		return lang.F("The source does not say for which state of the thread the torque is meant. This one is %s. Look in the source's general notes, or ask. Do not change the torque.", is.Words())
	case is == meant:
		return ""
	}
	differ := lang.F("The torque is meant for a thread that is %s, and this one is %s.", meant.Words(), is.Words())
	switch {
	case is.slips() && !meant.slips():
		return differ + " " + lang.T("The same torque then pulls the bolt harder than intended. Clean the thread. Do not lower the torque instead.")
	case meant.slips() && !is.slips():
		return differ + " " + lang.T("The same torque then clamps less than intended. Put on what the source says. Do not raise the torque instead.")
	}
	return differ + " " + lang.T("Bring it into the state that the source means. Do not change the torque instead.")
}
