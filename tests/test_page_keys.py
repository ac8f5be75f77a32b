"""The keys of the offline page, whatever was clicked or chosen before."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from page_in_chromium import MadePage, begun, button, read, told
from page_sound import at

if TYPE_CHECKING:
    from playwright.sync_api import Page


@pytest.mark.parametrize("chosen", ["#start", "#stop", "#view", "#draw", "#back", "#louder", "#points", "summary"])
def test_space_pauses_and_goes_on_whatever_was_chosen_last(view: Page, drill_page: MadePage, chosen: str) -> None:
    begun(view, drill_page.line)
    at(view, drill_page.first("call"))
    view.focus(chosen)

    def rest() -> tuple[str | None, ...]:
        """All that Space must leave as it is."""
        where = view.evaluate("document.querySelector('#screen').scrollTop")
        shown = view.inner_text("#where"), view.inner_text("#loudness"), view.get_by_label("Draw").input_value()
        return *shown, button(view, "Feeder's view").get_attribute("aria-pressed"), str(where)

    before = rest()
    for then in ("Paused", "Playing", "Paused"):
        view.keyboard.press(" ")
        told(view, then)
        view.wait_for_timeout(50)
        told(view, then)
    assert rest() == before
    assert not view.is_visible("#picture")  # the fold was not opened


def test_space_pauses_after_a_click_on_any_control(view: Page, drill_page: MadePage) -> None:
    begun(view, drill_page.line)
    for control in ("Part on", "Repeat part", "Softer", "Louder", "Feeder's view", "Part back"):
        button(view, control).click()
        told(view, "Playing")
        for then in ("Paused", "Playing"):
            view.keyboard.press(" ")
            told(view, then)
            view.wait_for_timeout(50)
            assert view.inner_text("#state") == then, control


def test_space_held_down_pauses_once(view: Page, drill_page: MadePage) -> None:
    begun(view, drill_page.line)
    for _ in range(4):  # the browser repeats a key that is not let go
        view.keyboard.down(" ")
    view.keyboard.up(" ")
    view.wait_for_timeout(150)
    assert view.inner_text("#state") == "Paused"


def test_enter_presses_what_is_chosen(view: Page) -> None:
    button(view, "We have read it").focus()
    view.keyboard.press("Enter")
    told(view, "Ready")
    feeders = button(view, "Feeder's view")
    feeders.focus()
    view.keyboard.press("Enter")
    assert feeders.get_attribute("aria-pressed") == "true"
    button(view, "Part on").focus()
    view.keyboard.press("Enter")
    assert "2 of 5" in view.inner_text("#where")
    view.focus("summary")
    view.keyboard.press("Enter")
    assert view.is_visible("#picture")


def test_space_also_presses_that_the_cautions_were_read(view: Page) -> None:
    button(view, "We have read it").focus()
    view.keyboard.press(" ")
    told(view, "Ready")
    view.wait_for_timeout(150)
    assert view.inner_text("#state") == "Ready"


def test_each_key_can_be_looked_up(view: Page) -> None:
    read(view)
    for control, key in {"Start": "Space", "Stop": "S", "Feeder's view": "F", "Part back": "←", "Part on": "→",
                         "Repeat part": "R", "Softer": "↓", "Louder": "↑"}.items():  # fmt: skip
        assert button(view, control).get_attribute("title") == f"key: {key}"
    view.click("summary")
    assert "the space bar pauses and goes on" in view.inner_text("#instructor")
