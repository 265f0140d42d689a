"""The shop's machine, learned from its coupons: release, next coupon, diagnosis, wear."""
