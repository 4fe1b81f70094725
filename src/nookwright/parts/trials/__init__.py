"""Parts that are printed to try: the coupon that measures a printer, and what proves a fit before the real part."""
