"""The words of a receipt as tokens: where each stands in the text, and how it is really spelled.

People write receipts with gloves on, and scanners read 0 for O. Damaged spelling is mended here
towards the words of the rules, and only there: a number is never mended into another, and an
ordinary English word is never mended into a word of damage.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass, replace
from functools import cache

from claimkit.findings.receipt.form import filled_in
from claimkit.rules.wording import book as wording

NO_STOP, LINK, SOFT, HARD = 0, 1, 2, 3
TENS_FROM, SECOND_TEN = 20, 10
SHORTEST_MENDED = 4
LONG_WORD = 8
THROUGH_WHAT = frozenset({"the", "handling", "carton", "piece", "goods", "places"})


@dataclass(frozen=True, slots=True)
class Token:
    """One word, number or sign.

    `start` and `end` are its span in the text as given. `word` is the spelling that the rules
    know, `stop` the pause before it (none, a link such as a dash or colon, soft as a comma, hard
    as a full stop). `sort` is word, number, ordinal, pair ("3/4"), size, time, date, money, code
    or sign. `value` and `of` are its numbers.
    """

    text: str
    start: int
    end: int
    word: str
    stop: int
    sort: str
    value: int | None = None
    of: int | None = None

    @property
    def classes(self) -> frozenset[str]:
        """Names of the word classes that it belongs to."""
        return _classes_of(self.word)


_PIECES = re.compile(
    r"""
    (?P<code>\(?\b\d{3}\)?[-. ]\d{3}[-.]\d{4}\b | \b\d{3}-\d{4}\b)
  | (?P<date>\b\d{4}-\d{2}-\d{2}\b | \b\d{1,2}[/-]\d{1,2}[/-]\d{2,4}\b)
  | (?P<time>\b\d{1,2}:\d{2}(?:\s*[ap]\.?m?\.?(?![a-z]))? | \b\d{1,2}\s?[ap]\.?m\b\.?)
  | (?P<money>\$\s?\d[\d,]*(?:\.\d+)?)
  | (?P<size>
        \d+(?:[-\s]\d+/\d+|\.\d+|/\d+)?\s*(?:["”]|''|'|in\b|ft\b|mm\b|cm\b)?\s?[x×]\s?
        \d+(?:[-\s]\d+/\d+|\.\d+|/\d+)?(?:\s?(?:["”]|''))?(?![a-z])
      | \d+(?:[-\s]\d+/\d+|\.\d+|/\d+)?\s?(?:["”]|'')
      | \d+(?:[-\s]\d+/\d+|\.\d+|/\d+)?\s?(?:inch(?:es)?|in|feet|foot|ft|mm|cm)\b
            (?!\s+(?:the|a|box|ctn|carton|good|bad|on|all|my|truck|trailer|total|order|one|each)\b)
      | \d+'(?!\w)
      | \d+[-\s](?:1/2|[13]/4|[1357]/8|\d{1,2}/16|\d{1,2}/32)(?![\d/])
      | \d+\.\d+
    )
  | (?P<pair>\b\d+\s?/\s?\d+\b)
  | (?P<word>
        \b(?:os&d|os\sand\sd|o[.\s]?\s?s\.?\s?&\s?d)\b
      | (?:[^\W\d_]\.){2,}[^\W\d_]?(?![^\W\d_])
      | \bw/(?:out\b|o\b)?
      | \b[^\W\d_]/[^\W\d_](?:/[^\W\d_])?\b
      | [^\W_]+(?:['’`´][^\W\d_]+)*
    )
  | (?P<sign>[#&+=%@?])
    """,
    re.VERBOSE | re.IGNORECASE,
)
_HARD = re.compile(r"[.;!?]")
_SOFT = re.compile(r"[,()\[\]{}]")
_LINK = re.compile(r"[:/\\|*~_“”\"–—<>]|-\s|\s-|--")
_FOLD = str.maketrans({"0": "o", "1": "l", "5": "s", "8": "b", "|": "l", "6": "g", "3": "e"})


def read_tokens(words: str) -> tuple[Token, ...]:
    """Split the words into tokens, mended to the rules' spelling.

    Line ends count as spaces: where a line was broken says nothing. The spans refer to `words` as
    given.
    """
    raw: list[Token] = []
    last = 0
    flat = _unquoted(filled_in(words, wording.NUMBER_WORDS))
    for found in _PIECES.finditer(flat):
        gap = flat[last : found.start()]
        raw.append(_token(found, _stop(gap, raw)))
        last = found.end()
    whole = _joined(tuple(_spelled_out(raw)))
    named = (None, *(token.word for token in whole))
    mended = _joined(
        tuple(
            part
            for token, title in zip(whole, named, strict=False)
            for part in _split(token, title)
        )
    )
    return tuple(map(_as_through, mended, (*mended[1:], None)))


def _as_through(token: Token, after: Token | None) -> Token:
    """Read "trough" as "through" before what it can go through: "a nail trough the side"."""
    goes = after is not None and after.stop == NO_STOP and after.word not in ("a", "an")
    into = after is not None and bool(after.classes & THROUGH_WHAT or after.word in ("it", "them"))
    slip = token.word in wording.READ_AS["through"] and goes and into
    return replace(token, word="through") if slip else token


def _spelled_out(raw: list[Token]) -> list[Token]:
    """Put letters that were written apart together: "D A M A G E D", "S T I"."""
    kept: list[Token] = []
    run: list[Token] = []
    for token in [*raw, None]:
        letter = token is not None and token.sort == "word" and len(token.text) == 1
        if token is not None and letter and (not run or token.stop == NO_STOP):
            run.append(token)
            continue
        whole = "".join(part.word for part in run)
        if len(run) > 2 and mend(whole) is not None:
            text = " ".join(part.text for part in run)
            kept.append(Token(text, run[0].start, run[-1].end, whole, run[0].stop, "word"))
        else:
            kept += run
        run = [token] if token is not None and letter else []
        if token is not None and not letter:
            kept.append(token)
    return kept


def _unquoted(words: str) -> str:
    """Blank quotation marks that stand in pairs, so that no closing one reads as inches."""
    flat = re.sub(r"“([^“”]*)”", r" \1 ", words)
    return re.sub(r'(^|(?<=[\s(]))"([^"]*)"(?=[\s).,;!]|$)', r" \2 ", flat)


def _stop(gap: str, before: list[Token]) -> int:
    if not before:
        return NO_STOP
    gap = re.sub(r"-\s*\n\s*", "", gap) if gap.startswith("-") else gap
    if _HARD.search(gap):
        abbreviated = gap.lstrip("'").startswith(".") and gap.count(".") <= 2
        known = "abbreviation" in before[-1].classes or len(before[-1].word) == 1
        return SOFT if abbreviated and known and not re.search(r"[;!?]", gap) else HARD
    if before[-1].text == "?":
        return HARD
    if _SOFT.search(gap):
        return SOFT
    return LINK if _LINK.search(gap) else NO_STOP


def _token(found: re.Match[str], stop: int) -> Token:
    sort = str(found.lastgroup)
    text = found.group()
    value = of = None
    if sort == "pair":
        value, of = (int(part) for part in re.split(r"\s?/\s?", text))
    word = plain(text)
    if sort == "word" and word.isdigit():
        sort, value = "number", int(word)
    return Token(text, found.start(), found.end(), word, stop, sort, value, of)


def plain(text: str) -> str:
    """Give a word without case, accents, apostrophes and the dots of an abbreviation."""
    flat = unicodedata.normalize("NFKD", text.casefold())
    flat = "".join(c for c in flat if not unicodedata.combining(c))
    return re.sub(r"['’`´.\s]", "", flat)


def _split(token: Token, before: str | None) -> tuple[Token, ...]:
    """Mend one token; a number glued to a word, or words run together, become several.

    A name behind "attn" or "Mr" is left as it is written.
    """
    name = before in wording.READ_AS["titles"] and token.word not in wording.VOCABULARY
    if token.sort != "word" or name:
        return (token,)
    glued = re.fullmatch(r"(\d+)([a-z]+)", token.word)
    if glued and glued.group(2) in ("st", "nd", "rd", "th"):
        return (replace(token, sort="ordinal", value=int(glued.group(1))),)
    if glued and glued.group(1) != "0" and len(token.text) == len(token.word):
        digits, tail = glued.groups()
        if len(tail) > 1 and known(tail):
            return _number_and_word(token, digits, tail)
    together = _run_together(token)
    if len(together) > 1:
        return together
    possessive = re.search(r"['’`´]s$", token.text, re.IGNORECASE)
    mended = _exact(token.word) if possessive else mend(token.word)
    if mended is not None:
        return (replace(token, word=mended, value=wording.NUMBER_WORDS.get(mended)),)
    return _unknown(token)


def _number_and_word(token: Token, digits: str, tail: str) -> tuple[Token, ...]:
    at = token.start + len(digits)
    return (
        Token(digits, token.start, at, digits, token.stop, "number", int(digits)),
        Token(token.text[len(digits) :], at, token.end, tail, NO_STOP, "word"),
    )


def _unknown(token: Token) -> tuple[Token, ...]:
    """Read what the rules do not know: l0 as 10, other letters with digits as a code."""
    if not re.search(r"\d", token.word):
        return (token,)
    if re.fullmatch(r"[0-9loi|]+", token.word):
        digits = token.word.translate(str.maketrans("loi|", "1011"))
        return (replace(token, word=digits, sort="number", value=int(digits)),)
    return (replace(token, sort="code"),)


def _run_together(token: Token) -> tuple[Token, ...]:
    if len(token.word) < 6 or len(token.text) != len(token.word) or _exact(token.word):
        return (token,)
    parts = _segment(token.word)
    if parts is None:
        return (token,)
    tokens: list[Token] = []
    at = token.start
    for part in parts:
        text = token.text[at - token.start : at - token.start + len(part)]
        stop = NO_STOP if tokens else token.stop
        value = wording.NUMBER_WORDS.get(part)
        tokens.append(Token(text, at, at + len(part), part, stop, "word", value))
        at += len(part)
    return tuple(tokens)


@cache
def _segment(word: str) -> tuple[str, ...] | None:
    """Cut a word into words of the rules, the fewest and longest; None where it cannot be."""
    if word in wording.ORDINARY:
        return None
    best: list[tuple[str, ...] | None] = [()] + [None] * len(word)
    for end in range(1, len(word) + 1):
        for start in range(max(0, end - 14), end):
            head, part = best[start], word[start:end]
            if head is None or not (part in wording.GLUED or (len(part) > 3 and known(part))):
                continue
            longer = best[end]
            if longer is None or len(head) + 1 < len(longer):
                best[end] = (*head, part)
    found = best[-1]
    return found if found is not None and 2 <= len(found) <= 5 else None


def _joined(tokens: tuple[Token, ...]) -> tuple[Token, ...]:
    """Put back together a word that was torn in two: "crushe d", "rec d", "re-wrapped"."""
    kept: list[Token] = []
    for token in tokens:
        before = kept[-1] if kept else None
        if before is not None and _tens_and_ones(before, token):
            text, word = before.text + " " + token.text, before.word + token.word
            both = (before.value or 0) + (token.value or 0)
            kept[-1] = Token(text, before.start, token.end, word, before.stop, "word", both)
            continue
        if (
            before is not None
            and token.stop == NO_STOP
            and before.sort in ("word", "code")
            and token.sort in ("word", "code")
            and (before.word == "re" or not (known(before.word) and known(token.word)))
        ):
            whole = _whole(before.word + token.word)
            if whole is not None:
                text = before.text + " " + token.text
                value = wording.NUMBER_WORDS.get(whole)
                kept[-1] = Token(text, before.start, token.end, whole, before.stop, "word", value)
                continue
        kept.append(token)
    return tuple(kept)


def _tens_and_ones(before: Token, token: Token) -> bool:
    """Tell whether two words are one number: "twenty-two"."""
    words = before.sort == token.sort == "word" and token.stop == NO_STOP
    tens = (before.value or 0) >= TENS_FROM and before.word.endswith("ty")
    return words and tens and 0 < (token.value or 0) < SECOND_TEN and token.word != "single"


def _whole(word: str) -> str | None:
    if len(word) < 4 or word in wording.ORDINARY:
        return None
    return _exact(word)


def known(word: str) -> bool:
    """Tell whether the rules know this spelling."""
    return word in wording.VOCABULARY


@cache
def _exact(word: str) -> str | None:
    if word in wording.VOCABULARY:
        return word
    folded = word.translate(_FOLD)
    if folded in wording.VOCABULARY and re.search("[a-z]", word):
        return folded
    return None if word in wording.ORDINARY else _keys().get(_key(word))


@cache
def mend(word: str) -> str | None:
    """Give the rules' word that a spelling stands for, or None.

    Exact first, then as a scanner misreads it (0/O, 1/l/I, 5/S, rn/m), then one slip of the pen
    in words of 5 to 7 letters and two in longer ones (optimal string alignment distance).
    Ordinary words that lie that close to a word of the rules are left alone.
    """
    exact = _exact(word)
    if exact is not None:
        return exact
    letters = word.translate(_FOLD) if re.search(r"[a-z]", word) else word
    if len(letters) < SHORTEST_MENDED or not letters.isalpha() or letters in wording.ORDINARY:
        return None
    return _nearest(letters)


def _nearest(letters: str) -> str | None:
    from rapidfuzz.distance import OSA  # needed only for a word that no rule knows

    allowed = 2 if len(letters) >= LONG_WORD else 1
    near: list[tuple[int, int, int, str]] = []
    for candidate in wording.MENDABLE:
        if len(letters) == SHORTEST_MENDED and len(candidate) <= len(letters):
            continue
        if abs(len(candidate) - len(letters)) > allowed:
            continue
        limit = allowed if len(candidate) >= LONG_WORD else 1
        distance = OSA.distance(letters, candidate, score_cutoff=limit)
        if distance <= limit and (distance < 2 or letters[0] == candidate[0]):
            denies = 0 if candidate in wording.DENYING else 1
            swapped = sorted(letters) == sorted(candidate)
            ends = (letters[0] != candidate[0]) + (letters[-1] != candidate[-1])
            near.append((distance, denies, 0 if swapped else 1 + ends, candidate))
    return min(near)[3] if near else None


def _key(word: str) -> str:
    """Fold what a scanner confuses into one letter."""
    return word.translate(_FOLD).replace("i", "l").replace("rn", "m").replace("vv", "w")


@cache
def _keys() -> dict[str, str]:
    keys: dict[str, str] = {}
    for word in sorted(wording.VOCABULARY, reverse=True):
        if len(word) > 1 and not re.search(r"\d", word):
            keys[_key(word)] = word
    return keys


@cache
def _classes_of(word: str) -> frozenset[str]:
    return frozenset(name for name, words in wording.CLASSES.items() if word in words)
