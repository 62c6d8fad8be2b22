"""The words without which a movement can't be told: a text that names none of them has it told elsewhere in its sheet."""

from __future__ import annotations

import re

CLAPS = re.compile(r"clap|hand|\bcl?\b|applau|smack|\barms?\b|\bpat|slap|both|\*|!", re.IGNORECASE)
HANDS = re.compile(
    r"hand|arm|clap|pat|slap|snap|click|push|press|punch|box|wave|roll|reach|stretch|\bup|down|lap\b|chest|heart|open|wide|spread|cross|fold|hug|"
    r"pull|circle|shake|swing|palm|fist|finger|thumb|shoulder|knee|thigh|hip|head|air|sky|stir|swim|row|fly|flap|\b[rlb]h\b|\bh\b|point|brush|rub|tap|"
    r"sweep|draw|lift|raise|lower|rest|bring|take|give|throw|catch|pick|wipe|conduct|drum|knit|wind|lasso|salut|pray|bow|touch|hold|put|come|go|stay",
    re.IGNORECASE,
)
LEANS = re.compile(
    r"\b(as (in|above|before|section|part|set|it)|same|like (in|the|section|part|set|#|\(?\d)|repeat|again|mirror|both|together|reversed|"
    r"half of|counts|first|all of (that|it)|everything|feet of|hands of|without the|just the)\b|\b[A-Z] with\b",
    re.IGNORECASE,
)
NAMES = {
    "heel": r"heel|hl\b|dig|hls?\b|flex|toes? up|\bH\b|[LR]H\b|ht\b",
    "touch": r"touch|tap|tip|toe|point|tch|tck|heel|strut|brush|star|peck|kiss|prick|ball|\bT\b|dot|dab|knock|tickle|pok|test|dip|press|lands?|hl\b|tc\b|monterey|dig|reach|pt\b|\bout\b|\bto\b|charleston",
    "kick": r"kick|straight|stretch|extend|lengthen|flick|boot|swing|long|unbend|punt|ball|kb|kk?\b",
    "stomp": r"stomp|stamp|thump|st[ao]mp|bang|hard|loud|firm|drum|thud|plant|heavy|stmp|boom",
    "stomp-up": r"stomp|stamp|thump|bang|hard|loud|stmp|strike",
    "hitch": r"hitch|knee|lift|raise|high|march|up|pull|hop|kn\b|\bK\b",
    "scuff": r"scuff|brush|scrape|graze|skim|scf|sc\b",
    "brush": r"brush|scuff|sweep|skim|swish|strok|scrape|flick|swing|brs?h?\b",
    "swivel": r"swivel|twist|heel|wag|swing|turn|slid|travel|toes|windscreen|wiper|toe",
    "fan": r"fan|toe|open|wiper|swing|swivel|turn",
    "drag": r"drag|slide|draw|pull|slow|gather|bring|drawn|trail|sweep|tow|creep|floor",
    "bump": r"bump|hip|pelvis|double|right|left",
    "sway": r"sway|rock|lean|hip|swing|shift|weight|tilt|roll|body|hips",
    "rock": r"rock|mambo|lunge|sway|press|lean|break|cuban|weight|check|vaudeville|back|change|ball|tip|push|coaster|rk\b",
    "pivot": r"pivot|turn|¼|½|1/[248]|half|quarter|paddle|round|swing|monterey|push|piv|spin|hinge",
    "lunge": r"lunge|press|lean|big|long|large|deep|bend",
    "hook": r"hook|cross|shin|lift|figure",
    "flick": r"flick|kick|behind|lift|up",
    "sweep": r"sweep|swing|circle|arc|round|draw|ronde|ring|polish",
    "drop": r"drop|heel|strut|down|lower|press|put|set|plant|flat|sink|weight|stand|\bd\b",
    "raise": r"rais|lift|up|rise|heel|toe|tip|peel|↑|kn\b",
    "lower": r"lower|drop|down|heel|sink|set|put|land|home|back|toe|fall|rest|settle|flat|bounce|lift|rise|↓",
    "unwind": r"unwind|turn|spin|full|half|round|unw|½|untw",
    "point": r"point|tap|touch|toe|finger|stretch|monterey|reach|straight|pt\b",
    "hand:pat": r"pat|slap|tap|drum|knee|thigh|lap|leg|beat|hit|smack|touch|[+*]|\bp\b",
    "hand:snap": r"snap|click|finger|👆|flick",
    "hand:wave": r"wav|hello|goodbye|flap|flutter",
    "hand:roll": r"roll|wind|wheel|round|turn|tumbl|reel|mill|spin|stir|knit|circ|roly|rr\b",
    "hand:punch": r"punch|box|fist|jab|knock|hit|hammer|bang|jab|thump",
    "hand:circle": r"circ|round|stir|polish|wheel|wind|roll|ring|turn|lasso|hook",
    "hand:swing": r"swing|swung|arm|march|pendul|pump|row",
    "hand:shake": r"shak|shook|rattle|wiggle|jiggle|tremble|flutter|shimmer|maraca",
    "hand:cross": r"cross|fold|hug|\bx\b|over|wrap|embrac",
    "hand:push": r"push|press|shove|out|away|forward|fwd|stop|both|[RL] up|>|fwd",
    "hand:pull": r"pull|draw|back|in\b|bring|chest|home|gather|fetch|row|return|tug|haul|elbow|to|waist|shldr|shoulder",
    "hand:open": r"open|wide|spread|out|wing|apart|side|part|unfold|fling|fan",
    "turn:90": r"turn|¼|1/4|quarter|pivot|paddle|9|3|face|box|\d:00|monterey|swing|qtr|1/8|hinge|o.clock|round|rolling|q\b",
    "turn:180": r"turn|½|1/2|half|pivot|face|round|6|12|monterey|back wall|spin|hinge|rolling|halves",
}
NAMED = {code: re.compile(names, re.IGNORECASE) for code, names in NAMES.items()}
NAMED |= {code.replace(":", ":-"): NAMED[code] for code in ("turn:90", "turn:180")}


def is_told(text: str, codes: list[str]) -> bool:
    """Whether a section's own words may tell what is danced: what another part of the sheet tells would be made up."""
    if "hand:clap" in codes and not CLAPS.search(text):
        return False
    if any(code.startswith("hand:") for code in codes) and not HANDS.search(text):
        return False
    return not LEANS.search(text) or all(NAMED[code].search(text) for code in codes if code in NAMED)
