"""An invoice as a PDF of one or more pages, with its fonts inside."""

import io
import unicodedata
from collections.abc import Iterable
from pathlib import Path
from typing import Any
from xml.sax.saxutils import escape

import reportlab
from reportlab.lib.pagesizes import A4, letter
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import (
    Flowable,
    KeepTogether,
    Paragraph,
    SimpleDocTemplate,
    Spacer,
    Table,
)

from dispatch.actions import invoices, money
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
    document.build(_story(invoice), onFirstPage=_foot, onLaterPages=_foot)
    return out.getvalue()


def _story(invoice: Invoice) -> list[Flowable]:
    void = ", void" if invoice.void else ""
    facts = [
        f"For {invoice.boat}",
        f"Issued {invoices.dated(invoice.issued_on)}, due {invoices.dated(invoice.due_on)}",
    ]
    return [
        Paragraph(_safe(invoice.outfit), _BOLD),
        *_plain(invoice.outfit_lines),
        Spacer(1, 8 * mm),
        Paragraph(f"Invoice {invoice}{void}", _HEAD),
        Paragraph(_safe(f"To {invoice.customer}"), _PLAIN),
        *_plain(invoice.customer_address.splitlines()),
        Spacer(1, 3 * mm),
        *_plain(facts),
        Spacer(1, 8 * mm),
        _table(invoice),
        Spacer(1, 8 * mm),
        KeepTogether(_asking(invoice)),
    ]


def _foot(canvas: Canvas, document: SimpleDocTemplate) -> None:
    """Name the invoice and the page at the foot, for pages come apart."""
    canvas.setFont("Vera", 8)
    canvas.drawRightString(
        document.pagesize[0] - document.rightMargin,
        12 * mm,
        f"{document.title}, page {document.page}",
    )


def _asking(invoice: Invoice) -> list[Flowable]:
    """How to pay, and the thanks; a void invoice asks for nothing."""
    if invoice.void:
        return [Paragraph("This invoice is void: nothing is to be paid by it.", _BOLD)]
    how = invoice.pay_how.splitlines()
    return [
        *([Paragraph("How to pay", _BOLD)] if how else []),
        *_plain([*how, f"Please name invoice {invoice} when you pay. Thank you."]),
    ]


def _plain(lines: Iterable[str]) -> list[Flowable]:
    return [Paragraph(_safe(line), _PLAIN) for line in lines]


def _table(invoice: Invoice) -> Table:
    rows = [[Paragraph("What", _BOLD), Paragraph("Amount", _BOLD_RIGHT)]]
    rows += [_row(line["words"], line["cents"]) for line in invoice.lines]
    if invoice.tax_cents:
        rows.append(_row(f"Tax, {invoice.tax_pct:g} %", invoice.tax_cents))
    rows.append(_row("Together", invoice.total_cents, bold=True))
    so_far: list[dict[str, Any]] = [
        {"words": "Paid so far", "cents": invoice.paid_cents}
    ]
    if invoice.payments or invoice.paid_cents:
        paid = invoice.payments or so_far
        rows += [_row(one["words"], -one["cents"]) for one in paid]
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
    """A text as the page builder takes it for text; a letter the font lacks loses its mark, or is asked about."""
    return escape("".join(map(_letter, text)))


def _letter(one: str) -> str:
    known = pdfmetrics.getFont("Vera").face.charToGlyph
    bare = unicodedata.normalize("NFKD", one)[0]
    return next((tried for tried in (one, bare) if ord(tried) in known), "?")


def _fonts() -> None:
    """Make the fonts that come with the library known, once."""
    folder = Path(reportlab.__file__).parent / "fonts"
    for name, file in _FONTS.items():
        if name not in pdfmetrics.getRegisteredFontNames():
            pdfmetrics.registerFont(TTFont(name, str(folder / file)))
