package card

import (
	"io"

	"strutcard/calc/lang"
	"strutcard/sync/event"
	"strutcard/sync/table"
)

// WriteFasteners writes one line for each pass that was made, and one for each
// fastener without any, as RFC 4180 has it, in UTF-8.
func (c Card) WriteFasteners(to io.Writer) error {
	rows := [][]table.Cell{{"fastener", "place", "corner", "thread", "count", "hardware", "asked_Nm", "tolerance_Nm", "asked_angle_deg", "source", "questioned",
		"state", "clear", "reason", "pass", "made_Nm", "made_angle_deg", "wrench_set_Nm", "wrench", "adapter", "made_count", "holds", "hurried", "at_utc", "device"}}
	for _, f := range c.Fasteners {
		head := []table.Cell{table.Text(string(f.ID)), table.Text(f.Place), table.Text(string(f.Corner)), table.Text(f.Thread), table.Number(f.Count, 1), table.Text(f.Hardware),
			table.Known(f.TorqueCNM, 100), table.Known(f.TolCNM, 100), table.Known(f.AngleMdeg, 1000), table.Text(f.Source), table.Text(f.Questioned),
			table.Text(f.Phase), table.Yes(f.Clear), table.Text(f.Reason)}
		if len(f.Passes) == 0 {
			rows = append(rows, append(head, make([]table.Cell, len(rows[0])-len(head))...))
		}
		for _, p := range f.Passes {
			rows = append(rows, append(head[:len(head):len(head)], table.Text(string(p.Pass)), table.Known(p.TorqueCNM, 100), table.Known(p.AngleMdeg, 1000),
				table.Known(p.SetCNM, 100), table.Text(p.Wrench), table.Text(p.Adapter), table.Number(p.Count, 1), table.Yes(p.Holds), table.Yes(p.Hurried), table.Text(p.At), table.Text(c.DeviceName(p.By))))
		}
	}
	return table.Write(to, rows)
}

// WriteReadings writes one line for each reading, with a column for the values
// of each unit, so that a column holds one kind of number.
func (c Card) WriteReadings(to io.Writer) error {
	units := []event.Unit{event.UM, event.Mdeg, event.G, event.Pa}
	head := []table.Cell{"quantity", "place", "purpose"}
	for _, what := range []string{"value", "u95", "target", "tolerance"} {
		for _, u := range units {
			unit, _ := table.Unit(u)
			head = append(head, table.Cell(what+"_"+unit))
		}
	}
	rows := [][]table.Cell{append(head, "verdict", "stale", "method", "formula", "instrument", "load", "takes", "source_of_target", "at_utc", "device")}
	for _, r := range c.Readings {
		t, source := [2]table.Cell{}, ""
		_, per := table.Unit(r.Unit)
		if r.Target != nil {
			t, source = [2]table.Cell{table.Number(r.Target.Value, per), table.Number(r.Target.Tol, per)}, r.Target.Source
		}
		row := []table.Cell{table.Text(string(r.Quantity)), table.Text(string(r.Place)), table.Text(string(r.Purpose))}
		for _, v := range []table.Cell{table.Number(r.Value, per), table.Known(r.U95, per), t[0], t[1]} {
			for _, u := range units {
				row = append(row, map[bool]table.Cell{true: v}[u == r.Unit])
			}
		}
		rows = append(rows, append(row, table.Text(r.Verdict), table.Text(r.Stale), table.Text(r.Method), table.Text(r.Formula), table.Text(r.Instrument), table.Text(r.Load),
			table.Number(int64(max(1, len(r.Takes))), 1), table.Text(source), table.Text(r.At), table.Text(c.DeviceName(r.By))))
	}
	return table.Write(to, rows)
}

// DeviceName is what the shop calls a device, or the end of its id.
func (c Card) DeviceName(id event.DeviceID) string {
	for _, d := range c.Devices {
		if d.Device == id && d.Name != "" {
			return d.Name
		}
	}
	return lang.F("device …%s", string(id[max(0, len(id)-6):]))
}
