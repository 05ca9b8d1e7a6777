"""Room: money. A build's cost sheet, its price and its payments, exact to the smallest coin."""
