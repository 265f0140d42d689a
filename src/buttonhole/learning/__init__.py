"""The shop's machine, learned from its coupons: posterior, release, next coupon, diagnosis, wear."""
