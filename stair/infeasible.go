package stair

func (s *solver) why(n int) string { return "x" }

func (p *problem) infeasible(c []PerCount) error {
	return Faults{{Problem: "does not fit"}}
}
