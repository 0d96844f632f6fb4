"""What a page looks like to those who read, tap or listen to it."""

from collections.abc import Mapping

from axe_playwright_python.base import AXE_SCRIPT
from playwright.sync_api import Page

# WCAG 2.2 target size, level AAA: 44 by 44 CSS pixels.
TAP_PX = 44
# What a page is left in stands last.
LIGHTS = ("dark", "light")
# All that a page passes as well is half a megabyte to fetch out of the browser.
ASKED = {"resultTypes": ["violations"]}
# All that another scheme can change of a page; the rest is asked once.
OF_COLOUR = {"type": "rule", "values": ["color-contrast", "link-in-text-block"]}

# What axe-core finds, cut down in the page: fetched whole it takes longer than to find.
GRAVE = """async asked => (await axe.run(asked)).violations
    .filter(one => ['serious', 'critical'].includes(one.impact))
    .flatMap(one => one.nodes.map(node => `${one.id}: ${node.html.slice(0, 120)}`))"""

# The name and the height of each that is drawn.
SEEN = """all => all
    .map(one => [one, one.getBoundingClientRect(), getComputedStyle(one).visibility])
    .filter(([one, box, shown]) =>
        one.checkVisibility() && box.width && box.height && shown === 'visible')
    .map(([one, box]) => [one.innerText || one.getAttribute('name') || '', box.height])"""


def amiss(page: Page, *, within: str = "#main") -> list[str]:
    """Return all that is amiss with a page as it stands: read, moved sideways, tapped."""
    wider = wider_than_the_screen(page)
    return [
        *([f"moves sideways by {wider} px"] if wider else []),
        *serious_in_any_light(page),
        *(f"lower than a finger: {target}" for target in small_targets(page, within)),
    ]


def serious_in_any_light(page: Page) -> list[str]:
    """Return what is serious in the dark or in the light scheme, each with its scheme; light is left on."""
    dark, light = LIGHTS
    page.emulate_media(color_scheme=dark)
    found = [f"{dark}: {line}" for line in serious(page)]
    page.emulate_media(color_scheme=light)
    of_colour = serious(page, asked=ASKED | {"runOnly": OF_COLOUR})
    return found + [f"{light}: {line}" for line in of_colour]


def serious(page: Page, asked: Mapping[str, object] = ASKED) -> list[str]:
    """Return what axe-core finds of serious or critical weight."""
    if not page.evaluate("'axe' in window"):
        page.evaluate(AXE_SCRIPT)
    return page.evaluate(GRAVE, dict(asked))


def wider_than_the_screen(page: Page) -> int:
    """Return by how many pixels the page must be moved sideways."""
    return page.evaluate(
        "() => document.documentElement.scrollWidth - document.documentElement.clientWidth"
    )


def small_targets(page: Page, within: str) -> list[str]:
    """Return what may be tapped inside a part of the page and is lower than a finger is wide."""
    targets = page.locator(f"{within} :is(button, input:not([type=hidden]), summary)")
    seen: list[tuple[str, float]] = targets.evaluate_all(SEEN)
    return [name for name, height in seen if height < TAP_PX]
