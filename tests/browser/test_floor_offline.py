"""Two phones without network, a server killed while they send: every set arrives once, in order."""

import shutil
import uuid
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from tests.own_server import OwnServer

PHONE = {"width": 390, "height": 844}
SETS_EACH = 50


@pytest.fixture(scope="module")
def seeded(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, dict]:
    """A database laid and filled once; each test works on a copy of its file."""
    folder = tmp_path_factory.mktemp("seeded")
    file = folder / "own.sqlite3"
    return file, OwnServer(folder, f"sqlite:///{file}").seed()


@pytest.fixture
def server(seeded: tuple[Path, dict], tmp_path: Path) -> Iterator[OwnServer]:
    """A server on a free port; `server.who` names the cast's sessions and rows."""
    copied = shutil.copy(seeded[0], tmp_path / "own.sqlite3")
    own = OwnServer(tmp_path, f"sqlite:///{copied}")
    own.who = seeded[1]
    own.start()
    yield own
    own.kill()


@pytest.fixture
def phone_of(browser: Browser, server: OwnServer) -> Iterator[Callable[[str], Page]]:
    contexts: list[BrowserContext] = []

    def open_board(name: str) -> Page:
        context = browser.new_context(viewport=PHONE, base_url=server.url, has_touch=True)
        contexts.append(context)
        sign_in(context, server, name)
        page = context.new_page()
        page.goto("/tonight/")
        ready(page)
        page.evaluate("() => navigator.serviceWorker.ready.then(() => true)")
        page.reload()
        ready(page)
        return page

    yield open_board
    for context in contexts:
        context.close()


def sign_in(context: BrowserContext, server: OwnServer, name: str) -> None:
    context.add_cookies([{"name": "sessionid", "value": server.who["sessions"][name], "url": server.url}])


def ready(page: Page) -> None:
    page.wait_for_selector("body[data-floor=ready]", state="attached", timeout=10_000)


def open_panel(page: Page, athlete: int) -> None:
    page.locator(f"button.next[data-athlete='{athlete}']").click()


def log_made(page: Page, athlete: int, load: str) -> None:
    """One set as staff logs it, with the load typed, in the tab they look at."""
    page.bring_to_front()
    open_panel(page, athlete)
    page.locator("#panel-load").fill(load)
    page.locator("[data-save=made]").click()
    expect(page.locator("#panel")).to_be_hidden()


def waiting(page: Page) -> int:
    return int(page.locator("#floor-status").get_attribute("data-waiting") or "0")


def expect_waiting(page: Page, count: int, timeout: int = 20_000) -> None:
    expect(page.locator("#floor-status")).to_have_attribute("data-waiting", str(count), timeout=timeout)


def expect_sent(page: Page, server: OwnServer, count: int) -> None:
    """Wait until so many sets have reached the server and nothing waits."""
    for _ in range(40):
        if server.query("LiftSet.objects.count()") == count:
            return expect_waiting(page, 0)
        page.wait_for_timeout(250)
    raise AssertionError(f"{count} sets did not arrive")


def stored(server: OwnServer, name: str) -> list[str]:
    """Typed loads of an athlete in the order of the log."""
    pk = server.who["athletes"][name]
    rows = f"LiftSet.objects.filter(athlete={pk}).order_by('day', 'order', 'pk')"
    return server.query(f"list({rows}.values_list('load_typed', flat=True))")


def test_100_sets_from_two_phones_arrive_once_and_in_order_through_a_killed_server(server, phone_of):
    ada, petra = server.who["athletes"]["ada"], server.who["athletes"]["petra"]
    phones = [(phone_of("stan"), ada), (phone_of("cato"), petra)]
    for page, _ in phones:
        page.context.set_offline(True)
    for n in range(SETS_EACH):
        for page, athlete in phones:
            log_made(page, athlete, str(100 + n))
    for page, _ in phones:
        expect_waiting(page, SETS_EACH)
        page.reload()  # the board itself opens without network, with what waits
        ready(page)
        expect_waiting(page, SETS_EACH)

    lost_answers = []

    def lose(route):
        """The server writes the first batch, then dies before the phone hears of it."""
        if lost_answers:
            return route.continue_()
        lost_answers.append(route.fetch().status)
        server.kill()
        return route.abort()

    first, second = phones[0][0], phones[1][0]
    first.route("**/floor/entries/", lose)
    first.context.set_offline(False)
    for _ in range(150):
        if lost_answers:
            break
        first.wait_for_timeout(100)
    assert lost_answers == [200]
    first.wait_for_timeout(500)
    assert waiting(first) == SETS_EACH, "nothing may leave the queue before the server has answered"
    second.context.set_offline(False)
    second.wait_for_timeout(500)
    assert waiting(second) == SETS_EACH
    server.start()
    for page, _ in phones:
        expect_waiting(page, 0)
    expected = [str(100 + n) for n in range(SETS_EACH)]
    assert stored(server, "ada") == expected
    assert stored(server, "petra") == expected
    assert server.query("LiftSet.objects.count()") == 2 * SETS_EACH


def test_another_sign_in_on_the_phone_neither_sees_nor_sends_what_waits(server, phone_of):
    page = phone_of("stan")
    context, ada = page.context, server.who["athletes"]["ada"]
    context.set_offline(True)
    log_made(page, ada, "123")
    expect_waiting(page, 1)
    page.route("**/floor/entries/", lambda route: route.abort())  # still no way through for Stan
    sign_in(context, server, "cato")
    context.set_offline(False)
    # the board notices the other sign-in by itself and becomes Cato's
    owner = f"{server.who['users']['cato']}-{server.who['clubs']['quarry']}"
    expect(page.locator("meta[name=floor-owner]")).to_have_attribute("content", owner, timeout=20_000)
    page.unroute("**/floor/entries/")
    page.goto("/tonight/")
    ready(page)
    expect_waiting(page, 0)
    expect(page.locator("#board")).not_to_contain_text("123 kg")
    page.wait_for_timeout(1500)
    assert stored(server, "ada") == []
    sign_in(context, server, "stan")
    page.goto("/tonight/")
    ready(page)
    expect_waiting(page, 0)
    assert stored(server, "ada") == ["123"]
    assert server.query("list(LiftSet.objects.values_list('author__username', flat=True))") == ["stan"]


def test_the_page_kept_for_one_person_is_gone_when_another_has_opened_any_page(server, phone_of):
    page = phone_of("stan")
    sign_in(page.context, server, "olga")
    page.goto("/tonight/print/")
    page.wait_for_function("async () => !(await caches.keys()).some((name) => name.startsWith('floor-page-'))")
    page.context.set_offline(True)
    page.goto("/tonight/")
    expect(page.locator("body")).to_contain_text("No network")
    expect(page.locator("body")).not_to_contain_text("Ada Fell")


EVERYTHING = """async () => {
  const kept = [];
  for (const name of await caches.keys()) {
    const cache = await caches.open(name);
    for (const request of await cache.keys()) kept.push(await (await cache.match(request)).text());
  }
  for (const { name } of await indexedDB.databases()) {
    const db = await new Promise((done) => { const r = indexedDB.open(name); r.onsuccess = () => done(r.result); });
    for (const store of db.objectStoreNames) {
      const all = db.transaction(store).objectStore(store).getAll();
      kept.push(JSON.stringify(await new Promise((done) => { all.onsuccess = () => done(all.result); })));
    }
    db.close();
  }
  return kept.join() + JSON.stringify(localStorage) + JSON.stringify(sessionStorage);
}"""


def open_online(page: Page, path: str) -> None:
    """Open a page; the browser's worker hears a moment later than the page that the network is back."""
    for _ in range(20):
        page.goto(path)
        if "No network" not in page.content():
            return
        page.wait_for_timeout(250)


def expect_locked(page: Page, count: int) -> None:
    """The phone counts what waits, and neither a name nor a load that was read is left on it."""
    expect(page.locator(".floor-locked")).to_contain_text(f"{count} unsent entr", timeout=15_000)
    left = page.evaluate(EVERYTHING)
    assert "Ada Fell" not in left and "Petra Moss" not in left and '"bests"' not in left


def test_when_the_cookie_is_gone_the_phone_keeps_a_count_and_no_names(server, phone_of):
    page = phone_of("stan")
    page.context.set_offline(True)
    log_made(page, server.who["athletes"]["ada"], "130")
    page.context.clear_cookies()
    page.context.set_offline(False)
    page.wait_for_url("**/sign-in/**", timeout=15_000)
    open_online(page, page.url)
    expect_locked(page, 1)
    page.context.set_offline(True)
    page.goto("/tonight/")
    expect(page.locator("body")).to_contain_text("No network")
    page.context.set_offline(False)
    sign_in(page.context, server, "stan")
    open_online(page, "/tonight/")
    expect_sent(page, server, 1)
    assert stored(server, "ada") == ["130"]


def test_another_persons_sign_in_finds_a_count_and_no_names(server, phone_of):
    page = phone_of("stan")
    page.context.set_offline(True)
    log_made(page, server.who["athletes"]["ada"], "131")
    page.context.clear_cookies()
    sign_in(page.context, server, "ada")
    page.context.set_offline(False)
    open_online(page, "/account/")
    expect(page.locator(".floor-locked")).to_contain_text("1 unsent entry waits on this phone for the person")
    assert "Petra Moss" not in page.evaluate(EVERYTHING)
    assert stored(server, "ada") == []
    page.context.clear_cookies()
    sign_in(page.context, server, "stan")
    page.goto("/tonight/")
    expect_sent(page, server, 1)
    assert stored(server, "ada") == ["131"]


def test_a_question_about_a_double_set_leaves_no_name_and_is_asked_again_after_sign_in(server, phone_of):
    first, second = phone_of("cato"), phone_of("stan")
    second.context.set_offline(True)
    log_made(second, server.who["athletes"]["ada"], "132")
    log_made(first, server.who["athletes"]["ada"], "132")
    expect_sent(first, server, 1)
    second.context.set_offline(False)
    asked = second.get_by_text("for Ada Fell too", exact=False)
    expect(asked).to_be_visible(timeout=15_000)
    second.context.clear_cookies()
    open_online(second, "/sign-in/")
    expect_locked(second, 1)
    sign_in(second.context, server, "stan")
    second.goto("/tonight/")
    expect(asked).to_be_visible(timeout=15_000)
    assert stored(server, "ada") == ["132"]


def test_a_clock_two_days_ahead_is_asked_about_and_stored_on_the_day_that_was_said(server, phone_of):
    page = phone_of("stan")
    today = page.evaluate("JSON.parse(document.querySelector('#floor-state').textContent).day")
    page.context.set_offline(True)
    log_made(page, server.who["athletes"]["ada"], "132")
    page.evaluate(SET_CLOCK)
    page.context.set_offline(False)
    box = page.locator("#floor-trouble")
    expect(box).to_contain_text("which cannot be right. Say the day.", timeout=15_000)
    expect(box.locator("input[type=date]")).to_have_value(today)
    assert stored(server, "ada") == []
    box.get_by_role("button", name="It was on this day").click()
    expect_sent(page, server, 1)
    assert stored(server, "ada") == ["132"]
    expect(box).to_be_hidden()


SET_CLOCK = """async () => {
  const at = new Date(Date.now() + 2 * 24 * 3600 * 1000).toISOString();
  const { openQueue } = await import("/static/floor/queue.js");
  const owner = document.querySelector("meta[name=floor-owner]").content;
  const queue = await openQueue(owner);
  for (const entry of await queue.all()) await queue.put({ ...entry, at });
}"""


def test_an_old_copy_of_the_board_is_not_opened(server, phone_of):
    page = phone_of("stan")
    page.evaluate("""async () => {
      const name = (await caches.keys()).find((one) => one.startsWith("floor-page-"));
      const cache = await caches.open(name);
      const kept = await cache.match("/tonight/");
      const headers = new Headers(kept.headers);
      headers.set("Date", new Date(Date.now() - 19 * 3600 * 1000).toUTCString());
      await cache.put("/tonight/", new Response(await kept.text(), { headers }));
    }""")
    page.context.set_offline(True)
    page.goto("/tonight/")
    expect(page.locator("body")).to_contain_text("No network")


def test_sign_out_warns_while_entries_wait_and_clears_the_kept_page(server, phone_of):
    page = phone_of("stan")
    page.context.set_offline(True)
    log_made(page, server.who["athletes"]["ada"], "140")
    page.route("**/floor/entries/", lambda route: route.abort())
    page.context.set_offline(False)
    page.goto("/account/")
    page.locator("form[action='/sign-out/'] button").first.click()
    expect(page.locator("dialog.leaving")).to_contain_text("1 entry waits on this phone")
    page.locator("dialog.leaving").get_by_text("Stay signed in").click()
    assert page.url.endswith("/account/")
    page.locator("form[action='/sign-out/'] button").first.click()
    page.locator("dialog.leaving").get_by_text("Sign out anyway").click()
    page.wait_for_url("**/sign-in/**")
    page.wait_for_function("async () => !(await caches.keys()).some((name) => name.startsWith('floor-page-'))")
    expect_locked(page, 1)


def test_a_set_that_somebody_else_logged_meanwhile_is_shown_and_not_written_twice(server, phone_of):
    stan, cato, ada = phone_of("stan"), phone_of("cato"), server.who["athletes"]["ada"]
    stan.context.set_offline(True)
    log_made(stan, ada, "150")
    log_made(cato, ada, "150")
    expect_sent(cato, server, 1)
    stan.context.set_offline(False)
    expect(stan.locator("#floor-trouble")).to_contain_text("Cato logged 150 kg x 1 for Ada Fell too", timeout=15_000)
    assert stored(server, "ada") == ["150"]
    stan.locator("#floor-trouble").get_by_text("Both happened").click()
    expect(stan.locator("#floor-trouble")).to_be_hidden(timeout=10_000)
    assert stored(server, "ada") == ["150", "150"]


def test_undo_without_network_takes_back_what_was_sent_and_what_was_not(server, phone_of):
    page, ada = phone_of("stan"), server.who["athletes"]["ada"]
    log_made(page, ada, "155")
    expect_sent(page, server, 1)
    page.context.set_offline(True)
    page.locator(".undo").click()
    expect(page.locator("#board")).not_to_contain_text("155 kg × 1, made")
    log_made(page, ada, "160")
    page.locator(".undo").click()
    log_made(page, ada, "165")
    page.context.set_offline(False)
    expect_waiting(page, 0)
    assert stored(server, "ada") == ["165"]


def test_two_tabs_of_one_phone_send_each_entry_once(server, phone_of):
    page, ada = phone_of("stan"), server.who["athletes"]["ada"]
    other = page.context.new_page()
    other.goto("/tonight/")
    ready(other)
    page.context.set_offline(True)
    for n in range(5):
        log_made(page if n % 2 else other, ada, str(170 + n))
    expect_waiting(page, 5)
    expect_waiting(other, 5)
    page.context.set_offline(False)
    expect_waiting(page, 0)
    expect_waiting(other, 0)
    assert stored(server, "ada") == [str(170 + n) for n in range(5)]


def test_entries_of_another_person_are_refused_by_the_server_itself(server, phone_of):
    page = phone_of("stan")
    answer = page.evaluate(
        """async ([user, club, athlete, uid]) => {
          const { token } = await (await fetch('/floor/token/')).json();
          const fields = { load_typed: '100', load_unit: 'kg', reps_tried: 1, result: 'made', lift: 'deadlift' };
          const entries = [{ uid, kind: 'set', athlete, fields }];
          const sent = await fetch('/floor/entries/', { method: 'POST', body: JSON.stringify({ user, club, entries }),
            headers: { 'X-CSRFToken': token, 'Content-Type': 'application/json' } });
          return [sent.status, (await sent.json()).why];
        }""",
        [server.who["users"]["cato"], server.who["clubs"]["quarry"], server.who["athletes"]["ada"], str(uuid.uuid4())],
    )
    assert answer == [403, "not-yours"]
    assert stored(server, "ada") == []
