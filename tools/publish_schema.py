"""Writes the published JSON Schema of every answer under docs/reference."""

from __future__ import annotations

from pathlib import Path

from inseries.desk.schema import schema_text

TARGET = Path(__file__).resolve().parents[1] / "docs" / "reference" / "answer.schema.json"

if __name__ == "__main__":
    TARGET.parent.mkdir(parents=True, exist_ok=True)
    TARGET.write_text(schema_text(), encoding="utf-8")
    print(f"docs/reference/{TARGET.name}")
