"""What a page looks like to those who read, tap or listen to it."""

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page

# WCAG 2.2 target size, level AAA: 44 by 44 CSS pixels.
TAP_PX = 44


def serious(page: Page) -> list[str]:
    """Return what axe-core finds of serious or critical weight."""
    found = Axe().run(page).response["violations"]
    return [
        f"{one['id']}: {node['html'][:120]}"
        for one in found
        if one["impact"] in ("serious", "critical")
        for node in one["nodes"]
    ]


def wider_than_the_screen(page: Page) -> int:
    """Return by how many pixels the page must be moved sideways."""
    return page.evaluate(
        "() => document.documentElement.scrollWidth - document.documentElement.clientWidth"
    )


def small_targets(page: Page, within: str) -> list[str]:
    """Return what may be tapped inside a part of the page and is lower than a finger is wide."""
    targets = page.locator(f"{within} :is(button, input:not([type=hidden]), summary)")
    return [
        target.inner_text() or target.get_attribute("name") or ""
        for target in targets.all()
        if target.is_visible() and target.bounding_box()["height"] < TAP_PX
    ]
