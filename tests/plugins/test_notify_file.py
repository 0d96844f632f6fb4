"""A message is written once, whole, whoever writes at the same time."""

import json
from concurrent.futures import ThreadPoolExecutor
from dataclasses import asdict, replace
from datetime import datetime
from pathlib import Path
from threading import Barrier

import pytest

from dispatch.hooks import testing
from dispatch.hooks.values import Appointment, Message, Receipt
from tests.plugins.asks import ISSUED, MESSAGE, WEEK, found


def send(file: Path, message: Message = MESSAGE) -> Receipt:
    given = {"file": str(file)}
    receipt: Receipt = testing.answer(found("notify_file"), given, "send", message)
    return receipt


def written(file: Path) -> list[dict[str, str]]:
    return [json.loads(line) for line in file.read_text("utf-8").splitlines()]


def test_a_message_is_one_line(tmp_path: Path) -> None:
    file = tmp_path / "new" / "folder" / "out.jsonl"
    two_lines = replace(MESSAGE, body="First.\nSecond.")
    assert send(file, two_lines) == Receipt(status="accepted", said="written")
    assert written(file) == [asdict(two_lines)]


def test_a_message_about_a_visit_is_written_with_its_moments(tmp_path: Path) -> None:
    file = tmp_path / "out.jsonl"
    visit = Appointment(
        uid="J1", sequence=0, told_at=ISSUED, span=WEEK, where="Marrow Road"
    )
    assert send(file, replace(MESSAGE, appointment=visit)).said == "written"
    (line,) = file.read_text("utf-8").splitlines()
    told = json.loads(line)["appointment"]
    assert datetime.fromisoformat(told["told_at"]) == ISSUED
    assert told["span"]["start"] == "2027-05-24T04:00:00+00:00"


def test_the_same_key_is_never_written_twice(tmp_path: Path) -> None:
    file = tmp_path / "out.jsonl"
    send(file)
    send(file, replace(MESSAGE, key="another"))
    again = send(file, replace(MESSAGE, body="Changed."))
    assert again == Receipt(status="accepted", said="written before")
    assert [line["key"] for line in written(file)] == [MESSAGE.key, "another"]


def test_what_a_dead_writer_left_of_a_line_is_not_a_message(tmp_path: Path) -> None:
    file = tmp_path / "out.jsonl"
    send(file, replace(MESSAGE, key="before"))
    torn = json.dumps(asdict(MESSAGE)).encode()[:-5]
    with file.open("ab") as end:
        end.write(torn)
    assert send(file).said == "written"
    assert [line["key"] for line in written(file)] == ["before", MESSAGE.key]


def test_a_line_somebody_else_wrote_is_left_alone(tmp_path: Path) -> None:
    file = tmp_path / "out.jsonl"
    file.write_text("a note\n[1]\n")
    send(file)
    assert file.read_text("utf-8").startswith("a note\n[1]\n{")


def test_a_file_that_cannot_be_written_is_told(tmp_path: Path) -> None:
    (tmp_path / "wall").write_text("")
    with pytest.raises(testing.Broken, match=r"wall/out\.jsonl cannot be written"):
        send(tmp_path / "wall" / "out.jsonl")


def test_four_writers_at_once_write_each_message_once(tmp_path: Path) -> None:
    file, keys = tmp_path / "out.jsonl", [f"key {number}" for number in range(25)]
    line_up = Barrier(4)

    def write_all() -> list[Receipt]:
        receipts = []
        for key in keys:
            line_up.wait(timeout=5)
            receipts.append(send(file, replace(MESSAGE, key=key)))
        return receipts

    with ThreadPoolExecutor(4) as pool:
        writers = [pool.submit(write_all) for _ in range(4)]
        receipts = [receipt for writer in writers for receipt in writer.result()]
    assert [line["key"] for line in written(file)] == keys
    assert sorted(receipt.said for receipt in receipts) == (
        ["written"] * 25 + ["written before"] * 75
    )
