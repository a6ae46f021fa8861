package slopewright

// ComparisonResult sets the bill of another plan beside this one's. Differences
// are the other's over this one's, negative where it costs less.
type ComparisonResult struct {
	Currency string         `json:"currency"`
	This     string         `json:"this" doc:"title of this plan"`
	Other    string         `json:"other" doc:"title of the other"`
	Lines    []ComparedLine `json:"lines" doc:"in the order of this bill, then what only the other has"`
	// The parts of More.
	Goods      string   `json:"goods" doc:"signed amount, as are the rest"`
	Deliveries string   `json:"deliveries"`
	Markups    string   `json:"markups"`
	Labour     string   `json:"labour"`
	Tax        string   `json:"tax"`
	More       string   `json:"more" doc:"of the totals"`
	Total      string   `json:"total" doc:"of this bill: of what has a price on it"`
	OtherTotal string   `json:"other_total" doc:"of the other bill, likewise"`
	Open       []string `json:"open" doc:"lines that lack a price on either bill: left out, so that the difference does not say which plan is dearer"`
	Says       string   `json:"says"`
}

// ComparedLine is one line of two bills.
type ComparedLine struct {
	_     [0]func() // not comparable, which spares code: see DEVELOPERS.md
	Item  string    `json:"item"`
	Name  string    `json:"name"`
	Buy   string    `json:"buy" doc:"by this plan; empty where it has no such line"`
	Cost  *Money    `json:"cost,omitempty"`
	Other string    `json:"other_buy" doc:"by the other plan"`
	Costs *Money    `json:"other_cost,omitempty"`
	More  string    `json:"more" doc:"signed amount; empty where a price is missing"`
}

// PricesDocument is a price list read from a table, as plans hold it.
type PricesDocument struct {
	Format string      `json:"format"`
	Items  []ItemPrice `json:"items"`
	Stock  []Stock     `json:"stock,omitempty" doc:"timber: each section and length with its price"`
}

// TableNames are the tables that a request can ask for.
func TableNames() []string { return []string{"takeoff", "pieces", "cutplan", "bill", "prices"} }
