"""The cautions that stand on every card, sheet and page."""

ESTIMATE = "Estimate only: a torn coupon decides."
MAKER = "The vehicle maker's procedure prevails."
CONDITIONS = "Valid only for the conditions listed here."
NEW_WELDS = "Criteria are for new welds, not for judging welds after a crash."
UNKNOWN = "Unknown material counts as the most sensitive."
NAME_THE_TEST = "Whoever reads a failure must name the test used."

CAUTIONS = (ESTIMATE, MAKER, CONDITIONS, NEW_WELDS, UNKNOWN, NAME_THE_TEST)

WORK = "Extraction on. Eyes, ears, gloves. Hands clear of the gun. Implants: keep away. Fire watch."
ARC_WORK = (
    "Extraction on. Filter shade, ears, gloves. Return clamp near the weld. "
    "Implants: keep away. Fire watch."
)
CARD_CAUTIONS = (*CAUTIONS, WORK)
ARC_CARD_CAUTIONS = (*CAUTIONS, ARC_WORK)
TEARING = "Visor, gloves, shield round the vice: edges are sharp, a button can fly."
SHEET_CAUTIONS = (*CAUTIONS, TEARING)
