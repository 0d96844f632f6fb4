"""An invoice as a PDF of one or more pages, with its fonts inside."""

import io
from datetime import date
from pathlib import Path
from xml.sax.saxutils import escape

import reportlab
from reportlab.lib.pagesizes import A4, letter
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.platypus import Flowable, Paragraph, SimpleDocTemplate, Spacer, Table

from dispatch.actions import money
from dispatch.records.models import Invoice, Outfit

_FONTS = {"Vera": "Vera.ttf", "Vera-Bold": "VeraBd.ttf"}
_PLAIN = ParagraphStyle("plain", fontName="Vera", fontSize=9.5, leading=13)
_RIGHT = ParagraphStyle("right", parent=_PLAIN, alignment=2)
_BOLD = ParagraphStyle("bold", parent=_PLAIN, fontName="Vera-Bold")
_BOLD_RIGHT = ParagraphStyle("bold-right", parent=_BOLD, alignment=2)
_HEAD = ParagraphStyle("head", parent=_BOLD, fontSize=16, leading=22, spaceAfter=6)


def drawn(invoice: Invoice) -> bytes:
    """The invoice as it was issued; a void one says so."""
    _fonts()
    out = io.BytesIO()
    us = Outfit.objects.get().units == Outfit.Units.US
    document = SimpleDocTemplate(
        out,
        pagesize=letter if us else A4,
        leftMargin=22 * mm,
        rightMargin=22 * mm,
        topMargin=20 * mm,
        bottomMargin=20 * mm,
        title=f"Invoice {invoice}",
        author=invoice.outfit,
        lang="en",
    )
    document.build(_story(invoice))
    return out.getvalue()


def _story(invoice: Invoice) -> list[Flowable]:
    void = ", void" if invoice.void else ""
    facts = [
        f"To {invoice.customer}",
        f"For {invoice.boat}",
        f"Issued {dated(invoice.issued_on)}, due {dated(invoice.due_on)}",
    ]
    return [
        Paragraph(_safe(invoice.outfit), _BOLD),
        Spacer(1, 8 * mm),
        Paragraph(f"Invoice {invoice}{void}", _HEAD),
        *(Paragraph(_safe(fact), _PLAIN) for fact in facts),
        Spacer(1, 8 * mm),
        _table(invoice),
        Spacer(1, 8 * mm),
        Paragraph(f"Please name invoice {invoice} when you pay. Thank you.", _PLAIN),
    ]


def _table(invoice: Invoice) -> Table:
    rows = [[Paragraph("What", _BOLD), Paragraph("Amount", _BOLD_RIGHT)]]
    rows += [_row(line["words"], line["cents"]) for line in invoice.lines]
    if invoice.tax_cents:
        rows.append(_row(f"Tax, {invoice.tax_pct:g} %", invoice.tax_cents))
    rows.append(_row("Together", invoice.total_cents, bold=True))
    if invoice.paid_cents:
        rows.append(_row("Paid so far", -invoice.paid_cents))
        owed = invoice.total_cents - invoice.paid_cents
        rows.append(_row("To pay", owed, bold=True))
    return Table(
        rows,
        colWidths=[118 * mm, 42 * mm],
        repeatRows=1,
        hAlign="LEFT",
        style=[
            ("LINEBELOW", (0, 0), (-1, -1), 0.4, "#999999"),
            ("LEFTPADDING", (0, 0), (0, -1), 0),
            ("RIGHTPADDING", (-1, 0), (-1, -1), 0),
        ],
    )


def _row(words: str, cents: int, *, bold: bool = False) -> list[Paragraph]:
    left, right = (_BOLD, _BOLD_RIGHT) if bold else (_PLAIN, _RIGHT)
    return [Paragraph(_safe(words), left), Paragraph(money.said(cents), right)]


def _safe(text: str) -> str:
    """A text as the page builder takes it for text; letters the font lacks are asked about."""
    known = pdfmetrics.getFont("Vera").face.charToGlyph
    return escape("".join(one if ord(one) in known else "?" for one in text))


def dated(day: date) -> str:
    """A day as an invoice writes it: June 6, 2027."""
    return f"{day:%B} {day.day}, {day.year}"


def _fonts() -> None:
    """Make the fonts that come with the library known, once."""
    folder = Path(reportlab.__file__).parent / "fonts"
    for name, file in _FONTS.items():
        if name not in pdfmetrics.getRegisteredFontNames():
            pdfmetrics.registerFont(TTFont(name, str(folder / file)))
