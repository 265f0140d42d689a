"""Which way a joint is joined: facts of the joint, rules as data, and the decision they make."""
