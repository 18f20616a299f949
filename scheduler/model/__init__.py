"""The CP-SAT model of a network: variables, one file a rule, objective. With ``search`` the only place that imports ortools."""
