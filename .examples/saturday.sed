# What a tester would fill into the draft of the readme's example by an editor. Invented, as all of the demo is.
s/^  description:$/  description: a new mask, nose wire bent by the leaflet/
s/^  obtained: .*/  obtained: bought/
s/^  source: .*/  source: a shop for work clothes/
s/^  lot: .*/  lot: TF25\/14/
s/^  unit:$/  unit: {not_recorded: masks of one pack have no numbers}/
s/^  received: .*/  received: 2025-12-01/
s/^  performed: .*/  performed: 2025-12-06/
s/^  issued: .*/  issued: 2025-12-08/
s/^place: .*/place: the old net loft, ground floor/
s/^  temperature: .*/  temperature: 17.5 degC/
s/^  pressure:$/  pressure: 1009 hPa/
s/^  humidity: .*/  humidity: 52 %/
s/^    filter: .*/    filter: the mask itself, new/
s/^    outcome:$/    outcome: completed/
s/^#probe:$/probe: between nose and upper lip, through a rivet, 5 mm from the skin/
s/^    #zero_check:$/    zero_check: {count: 0, time: 60 s}/
