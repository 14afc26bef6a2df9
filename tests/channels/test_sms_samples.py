"""The samples for an office, in DEVELOPERS.md and fixtures/serve, are settings that dropline takes."""

from __future__ import annotations

import re
from pathlib import Path

from bot import config
from bot.serve import assemble

TOP = Path(__file__).resolve().parents[2]


def test_the_settings_of_a_provider_in_developers_md_can_be_used(tmp_path: Path) -> None:
    samples = re.findall(r"```toml\n(.*?)```", (TOP / "DEVELOPERS.md").read_text(encoding="utf-8"), re.DOTALL)
    (sample,) = [each for each in samples if "[hook]" in each]
    for name in ("hook.secret", "hook.token"):
        (tmp_path / name).write_text("invented", encoding="utf-8")
    (tmp_path / "dropline.toml").write_text(f'database = "line.sqlite"\n{sample}', encoding="utf-8")
    running = assemble(config.read(tmp_path / "dropline.toml"))
    assert {"/hook/in", "/hook/status"} <= {rule.rule for rule in running.app.url_map.iter_rules()}


def test_the_sample_of_a_line_with_a_sim_card_can_be_used(tmp_path: Path) -> None:
    sample = (TOP / "fixtures" / "serve" / "dropline.toml").read_text(encoding="utf-8")
    unit = (TOP / "fixtures" / "serve" / "dropline.service").read_text(encoding="utf-8")
    assert "ProtectSystem=strict\n" in unit
    assert "\nStateDirectory=dropline\n" in unit
    sample = sample.replace('"/var/lib/dropline/', '"')  # the state directory: all else is read-only to the service
    assert '= "/' not in sample
    (tmp_path / "dropline.toml").write_text(sample, encoding="utf-8")
    running = assemble(config.read(tmp_path / "dropline.toml"))
    assert "sms" in [worker.name for worker in running.crew.workers]


def test_the_daemon_and_the_line_are_pointed_at_the_same_file() -> None:
    daemon = (TOP / "fixtures" / "serve" / "smsdrc").read_text(encoding="ascii")
    line = (TOP / "fixtures" / "serve" / "dropline.toml").read_text(encoding="utf-8")
    folder, name = (re.search(rf"^{key} = (.*)$", daemon, re.MULTILINE) for key in ("dbdir", "database"))
    assert folder
    assert name
    assert f'database = "{folder[1]}{name[1]}"' in line
