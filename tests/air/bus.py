"""A message bus of the tests' own, as the system's would be: one dbus-daemon, begun, killed and begun again."""

from __future__ import annotations

import shutil
import subprocess
import tempfile
from pathlib import Path

_RULES = """<!DOCTYPE busconfig PUBLIC "-//freedesktop//DTD D-Bus Bus Configuration 1.0//EN"
 "http://www.freedesktop.org/standards/dbus/1.0/busconfig.dtd">
<busconfig>
  <type>custom</type>
  <listen>unix:path={socket}</listen>
  <auth>EXTERNAL</auth>
  <policy context="default">
    <allow user="*"/>
    <allow own="*"/>
    <allow send_type="method_call"/>
    <allow send_type="signal"/>
    <allow send_requested_reply="true" send_type="method_return"/>
    <allow send_requested_reply="true" send_type="error"/>
    <allow receive_type="method_call"/>
    <allow receive_type="signal"/>
    <allow receive_type="method_return"/>
    <allow receive_type="error"/>
    {more}
  </policy>
</busconfig>
"""
SHUT = '<deny send_destination="org.bluez"/>'
"""A rule by which nobody may speak to the Bluetooth service, as where the user is not in its group."""


class Bus:
    """A private bus at `address`, which stays the same however often the daemon is killed and begun again."""

    def __init__(self, more_rules: str = "") -> None:
        self._folder = Path(tempfile.mkdtemp(prefix="air-"))
        self._rules = self._folder / "bus.conf"
        socket = self._folder / "bus"
        self.address = f"unix:path={socket}"
        self._rules.write_text(_RULES.format(socket=socket, more=more_rules), encoding="utf-8")
        self._daemon: subprocess.Popen[str] | None = None
        self.start()

    def start(self) -> None:
        """Begin the daemon; back when it listens."""
        program = shutil.which("dbus-daemon")
        assert program, "the tests need what Debian calls dbus-daemon"
        command = [program, f"--config-file={self._rules}", "--nofork", "--nopidfile", "--print-address"]
        self._daemon = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True)
        assert self._daemon.stdout is not None
        assert self._daemon.stdout.readline().strip(), "dbus-daemon did not start"

    def kill(self) -> None:
        """End the daemon at once; twice is nothing."""
        daemon, self._daemon = self._daemon, None
        if daemon is not None:
            daemon.kill()
            daemon.wait(5)
            assert daemon.stdout is not None
            daemon.stdout.close()

    def close(self) -> None:
        """End the daemon, and leave nothing behind."""
        self.kill()
        shutil.rmtree(self._folder, ignore_errors=True)
