"""The other site whose accounts sign in here, where the settings name one."""

from __future__ import annotations

from pathlib import Path

from flask import Flask, abort, current_app

from trainer.accounts.openid import Provider, ProviderSettings
from trainer.config import Settings, SettingsError

__all__ = ["know_provider", "outside_label", "provider", "provider_of"]


TOGETHER = {
    "oidc_issuer": "TRAINER_OIDC_ISSUER",
    "oidc_client": "TRAINER_OIDC_CLIENT",
    "oidc_secret_file": "TRAINER_OIDC_SECRET_FILE",
}
"""Settings that make sense together only."""


def provider_of(settings: Settings) -> Provider | None:
    """
    The other site that the settings name; None where they name none. Nothing is asked of it before somebody signs in.

    Raises:
        SettingsError: When only a part of it is told, or its secret cannot be read.
    """
    missing = [name for field, name in TOGETHER.items() if not getattr(settings, field)]
    if len(missing) == len(TOGETHER):
        return None
    issuer, client, file = settings.oidc_issuer, settings.oidc_client, settings.oidc_secret_file
    if not (issuer and client and file):
        message = f"this has to be set, too: {', '.join(TOGETHER.values())} make sense together only"
        raise SettingsError(missing[0], message)
    return Provider(ProviderSettings(issuer, client, _secret_in(file), settings.oidc_label, settings.oidc_newcomers))


def know_provider(app: Flask, settings: Settings) -> None:
    """Tie the other site to the application; raises what `provider_of` does."""
    app.extensions["trainer.provider"] = provider_of(settings)


def _secret_in(file: Path) -> str:
    name = TOGETHER["oidc_secret_file"]
    try:
        secret = file.read_text(encoding="utf-8").strip()
    except (OSError, UnicodeDecodeError) as error:
        reason = error.strerror if isinstance(error, OSError) else "it is no plain text"
        raise SettingsError(name, f"{file} cannot be read: {reason}") from error
    if not secret:
        raise SettingsError(name, f"{file} is empty; write the secret into it that the other site gave out")
    return secret


def provider() -> Provider:
    """The other site; where the settings name none, there is no such page."""
    found: Provider | None = current_app.extensions["trainer.provider"]
    if found is None:
        abort(404)
    return found


def outside_label() -> str:
    """What people call an account at the other site; "" where there is none."""
    found: Provider | None = current_app.extensions["trainer.provider"]
    return found.settings.label if found else ""
