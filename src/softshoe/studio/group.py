"""The group's pages, for an association: who is in it, who is invited, whose dances are shared, one's own password.

Forms only, no script. Each form carries a sign of the visit it was shown to, so that no other page can send it. The
door (``studio/association.py``) lets nobody in here without a visit.
"""

from __future__ import annotations

import hashlib
import secrets
from dataclasses import dataclass
from typing import TYPE_CHECKING, cast, get_args
from urllib.parse import parse_qs, urlencode

from starlette.concurrency import run_in_threadpool
from starlette.responses import HTMLResponse, RedirectResponse
from starlette.routing import Route

from softshoe.errors import SettingError, WorkbenchError
from softshoe.repertoire import accounts, belonging
from softshoe.repertoire.accounts import Role
from softshoe.studio.failing import MissingError, TooLargeError, status_of, told
from softshoe.studio.guard import FOREIGN
from softshoe.studio.table import PLACES
from softshoe.studio.templates import rendered

if TYPE_CHECKING:
    from collections.abc import Awaitable, Callable

    from starlette.requests import Request
    from starlette.responses import Response

    from softshoe.repertoire.accounts import Account
    from softshoe.repertoire.store import Repertoire

    Answer = Callable[[Request], Awaitable[Response]]

MOST_BYTES = 4_000  # of a form
SHOWN = 40  # dances on a page
TITLES = {"group": "The group", "group_dances": "Whose dances", "group_close": "Close an account",
          "group_password": "Your password"}  # fmt: skip
ROLES = {"owner": "keeps dances, invites, closes accounts", "leader": "keeps dances of her own",
         "reader": "looks at what is shared"}  # fmt: skip
DONE = {"withdrawn": "The invitation is taken back.", "role": "The role is changed.",
        "open": "The account is open again.",
        "password": "Your password is changed. Every other visit of yours has ended."}  # fmt: skip
NOT_AN_OWNER = SettingError("the group", "this can't be done by you", "only an owner invites and closes accounts",
                            "ask an owner")  # fmt: skip


@dataclass(frozen=True, slots=True)
class Visit:
    """One request of somebody who is in: who, the token of the visit, the repertoire for all eyes and for hers."""

    me: Account
    token: str
    kept: Repertoire
    form: dict[str, str]
    query: dict[str, str]
    path: dict[str, str]
    origin: str

    @property
    def own(self) -> Repertoire:
        """The repertoire as she may see it."""
        return self.kept.seen_by(self.me)

    @property
    def sign(self) -> str:
        """What every form shown to this visit carries."""
        return hashlib.sha256(f"form of {self.token}".encode()).hexdigest()

    def page(self, name: str, *, status: int = 200, wrong: WorkbenchError | None = None, **values: object) -> Response:
        """Return one of the pages, filled in."""
        frame = {"places": PLACES, "here": "group", "dance": None, "title": TITLES[name], "script": "",
                 "member": self.me.name}  # fmt: skip
        return HTMLResponse(rendered(f"{name}.html", me=self.me, sign=self.sign, roles=ROLES,
                                     wrong=told(wrong) if wrong else None, **frame, **values), status)  # fmt: skip

    def must_be_owner(self) -> None:
        """Raise SettingError for anybody else."""
        if self.me.role != "owner":
            raise NOT_AN_OWNER


def group_page(visit: Visit, *, code: str = "", said: str = "", wrong: WorkbenchError | None = None) -> Response:
    """Show who is in the group; to an owner, who is invited too."""
    owner = visit.me.role == "owner"
    with visit.kept.reading() as base:
        every = accounts.accounts(base)
        invited = accounts.invitations(base) if owner else ()
        left = {one.uid: belonging.left_by(base, one.uid) for one in every}
    return visit.page("group", status=status_of(wrong) if wrong else 200, wrong=wrong, accounts=every, left=left,
                      invited=invited, code=code, join=f"{visit.origin}/join?code={code}" if code else "",
                      said=said or DONE.get(visit.query.get("done", ""), ""))  # fmt: skip


def invite(visit: Visit) -> Response:
    """Make an invitation and show its code, once."""
    role = visit.form.get("role", "")
    if role not in get_args(Role):
        raise SettingError("an invitation", "it can't be made", "it is for no role", "choose one of those listed")
    with visit.kept.writing() as base:
        code = accounts.invite(base, role=cast("Role", role), by=visit.me.uid)
    return group_page(visit, code=code)


def withdraw(visit: Visit) -> Response:
    """Take an invitation back."""
    visit.must_be_owner()
    with visit.kept.writing() as base:
        accounts.withdraw(base, visit.form.get("key", ""))
    return RedirectResponse("/group?done=withdrawn", 303)


def change_role(visit: Visit) -> Response:
    """Give an account another role."""
    visit.must_be_owner()
    role = visit.form.get("role", "")
    if role not in get_args(Role):
        raise SettingError("the role", "it can't be given", "there is none of that name", "choose one of those listed")
    with visit.kept.writing() as base:
        accounts.set_role(base, visit.form.get("account", ""), cast("Role", role))
    return RedirectResponse("/group?done=role", 303)


def closing_page(visit: Visit, wrong: WorkbenchError | None = None) -> Response:
    """Ask what becomes of the dances of an account that is to be closed."""
    visit.must_be_owner()
    with visit.kept.reading() as base:
        gone = accounts.account(base, visit.path["account"])
        left = belonging.left_by(base, gone.uid)
        heirs = [one for one in accounts.accounts(base)
                 if not one.closed and one.role != "reader" and one.uid != gone.uid]  # fmt: skip
    return visit.page("group_close", status=status_of(wrong) if wrong else 200, wrong=wrong, gone=gone, left=left,
                      heirs=heirs)  # fmt: skip


def close(visit: Visit) -> Response:
    """Close an account, and do with its dances what was said."""
    visit.must_be_owner()
    becomes = visit.form.get("dances", "")
    try:
        with visit.kept.writing() as base:
            gone = accounts.account(base, visit.path["account"])
            left = belonging.left_by(base, gone.uid)
            accounts.close(base, gone.uid)
            if becomes == "stay" or not (left.alone or left.shared):
                said = "They stay with the closed account." if left.alone or left.shared else ""
            elif becomes == "group":
                belonging.to_the_group(base, gone.uid)
                said = "They are everybody's now."
            elif becomes == "give":
                heir = accounts.account(base, visit.form.get("heir", ""))
                belonging.give_all(base, heir.uid, of=gone.uid)
                said = f"They are {heir.name}'s now, shared or not as they were."
            else:
                raise SettingError("her dances", "nothing was done", "it was not said what becomes of them",
                                   "choose one of the three")  # fmt: skip
    except SettingError as wrong:
        return closing_page(visit, wrong)
    many = f"{left.alone} of the dances were nobody else's to see, {left.shared} were shared."
    return group_page(visit, said=f"The account of {gone.name} is closed. {many} {said}".strip())


def reopen(visit: Visit) -> Response:
    """Open a closed account again."""
    visit.must_be_owner()
    with visit.kept.writing() as base:
        accounts.reopen(base, visit.form.get("account", ""))
    return RedirectResponse("/group?done=open", 303)


def password_page(visit: Visit, wrong: WorkbenchError | None = None) -> Response:
    """Show the form of a new password."""
    return visit.page("group_password", status=status_of(wrong) if wrong else 200, wrong=wrong)


def dances_page(visit: Visit) -> Response:
    """Show whose the dances are that she may see."""
    asked = {name: visit.query.get(name, "")[:80] for name in ("q", "which", "after")}
    which = cast("belonging.Which", asked["which"] if asked["which"] in get_args(belonging.Which) else "all")
    after = int(asked["after"]) if asked["after"].isascii() and asked["after"].isdecimal() else 0
    with visit.own.reading() as base:
        found, total = belonging.listed(base, viewer=visit.me.uid, which=which, words=asked["q"], most=SHOWN,
                                        after=after)  # fmt: skip
    with visit.kept.reading() as base:
        names = {one.uid: one.name for one in accounts.accounts(base)}

    def at(place: int) -> str:
        return f"/group/dances?{urlencode({'q': asked['q'], 'which': which, 'after': place})}"

    return visit.page("group_dances", found=found, total=total, names=names, which=which, q=asked["q"], after=after,
                      back=at(max(0, after - SHOWN)) if after else "",
                      on=at(after + SHOWN) if after + SHOWN < total else "")  # fmt: skip


def share(visit: Visit) -> Response:
    """Share a dance with the group, or take it back."""
    if visit.me.role == "reader":
        raise SettingError("this dance", "it can't be shared by you", "you may read here, not write", "ask an owner")
    with visit.own.writing() as base:
        belonging.share(base, visit.form.get("dance", ""), by=visit.me.uid, shared=visit.form.get("to") == "group")
    asked = {name: visit.form.get(name, "")[:80] for name in ("q", "which", "after")}
    return RedirectResponse(f"/group/dances?{urlencode(asked)}", 303)


WAYS: tuple[tuple[str, str, Callable[[Visit], Response]], ...] = (
    ("/group", "GET", group_page), ("/group/invite", "POST", invite), ("/group/withdraw", "POST", withdraw),
    ("/group/role", "POST", change_role), ("/group/open", "POST", reopen),
    ("/group/close/{account}", "GET", closing_page), ("/group/close/{account}", "POST", close),
    ("/group/password", "GET", password_page), ("/group/dances", "GET", dances_page), ("/group/share", "POST", share),
)  # fmt: skip


def routes(kept: Repertoire, visitor: Callable[[str], Account | None], *, cookie: str,
           let_in: Callable[[Request, str, str], Response]) -> list[Route]:  # fmt: skip
    """Return the routes of the group's pages.

    visitor : whose visit a token is of; cookie : the name of the cookie that holds it
    let_in : the answer that leads to an address with the token of a new visit
    """

    def answering(work: Callable[[Visit], Response]) -> Answer:
        async def answer(request: Request) -> Response:
            visit = await _visit(request, kept, visitor, cookie)
            return RedirectResponse("/enter", 303) if visit is None else await run_in_threadpool(work, visit)

        return answer

    async def password(request: Request) -> Response:
        visit = await _visit(request, kept, visitor, cookie)
        if visit is None:
            return RedirectResponse("/enter", 303)
        try:
            entered = await run_in_threadpool(_changed, visit)
        except SettingError as wrong:
            return await run_in_threadpool(password_page, visit, wrong)
        if entered.refused is not None:
            return await run_in_threadpool(password_page, visit, entered.refused)
        return let_in(request, entered.token, "/group?done=password")

    return [*(Route(path, answering(work), methods=[method]) for path, method, work in WAYS),
            Route("/group/password", password, methods=["POST"])]  # fmt: skip


def _changed(visit: Visit) -> accounts.Entered:
    form = visit.form
    if form.get("new", "") != form.get("again", ""):
        raise SettingError("the new password", "it was not changed", "the two new ones are not the same",
                           "type it twice alike")  # fmt: skip
    with visit.kept.writing() as base:
        return accounts.change_password(base, visit.me.uid, form.get("old", ""), form.get("new", ""))


async def _visit(request: Request, kept: Repertoire, visitor: Callable[[str], Account | None],
                 cookie: str) -> Visit | None:  # fmt: skip
    """Return the visit; None where there is none. Raises SettingError for a form that was not shown to it."""
    token = request.cookies.get(cookie, "")
    me = await run_in_threadpool(visitor, token)
    if me is None:
        return None
    form = await form_of(request) if request.method == "POST" else {}
    path = {name: str(value) for name, value in request.path_params.items()}
    visit = Visit(me, token, kept, form, dict(request.query_params), path, str(request.base_url).rstrip("/"))
    if request.method == "POST" and not secrets.compare_digest(form.get("sign", "").encode(), visit.sign.encode()):
        raise FOREIGN
    if "account" in path:
        await run_in_threadpool(_told_there, visit)
    return visit


def _told_there(visit: Visit) -> None:
    with visit.kept.reading() as base:
        if not any(one.uid == visit.path["account"] for one in accounts.accounts(base)):
            raise MissingError("this address", "there is no such account", "it was never made", "go back to the group")


async def form_of(request: Request) -> dict[str, str]:
    """Return the fields of a small form; raises TooLargeError."""
    data = b""
    async for piece in request.stream():
        data += piece
        if len(data) > MOST_BYTES:
            raise TooLargeError("the form", "it is too large", f"more than {MOST_BYTES} bytes", "write less")
    return {name: said[0] for name, said in parse_qs(data.decode("utf-8", "replace")).items()}
