"""Results to what a reader sees: digits, sentences, cautions, chart data. Pure; no markup."""
