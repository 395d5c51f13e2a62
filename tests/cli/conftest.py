"""
Two app servers that share one PostgreSQL behind nginx, all on this machine, from the files that the program prints.

Tests with them need nginx and openssl, and are skipped without; TRAINER_TEST_REQUIRE=nginx makes such a skip a failure.
"""

from __future__ import annotations

import http.client
import os
import re
import shutil
import signal
import socket
import ssl
import subprocess
import sys
import time
from contextlib import closing, suppress
from dataclasses import dataclass
from html import unescape
from pathlib import Path
from urllib.parse import urlencode

import pytest

NAME = "training.example.org"
KEY = "one key for every host of this site"
TOKEN = "what only the one who watches holds"
#: What the proxy says, for requests that pass by it.
AS_PROXY = {"X-Forwarded-Proto": "https", "X-Forwarded-For": "192.0.2.7", "X-Forwarded-Host": NAME}
PATIENCE = 60
AROUND = """
daemon off;
{user}
pid {folder}/nginx.pid;
error_log {folder}/start.log;
events {{ worker_connections 64; }}
http {{
    client_body_temp_path {folder}/body;
    proxy_temp_path {folder}/proxy;
    fastcgi_temp_path {folder}/fastcgi;
    uwsgi_temp_path {folder}/uwsgi;
    scgi_temp_path {folder}/scgi;
    include {folder}/site.conf;
}}
"""


@dataclass(frozen=True)
class Shown:
    status: int
    headers: http.client.HTTPMessage
    text: str

    def field(self, name):
        return unescape(re.search(f'name="{name}" value="([^"]*)"', self.text)[1])


def free_port():
    with closing(socket.socket()) as listener:
        listener.bind(("127.0.0.1", 0))
        return listener.getsockname()[1]


def nginx_program():
    return shutil.which("nginx") or shutil.which("nginx", path="/usr/sbin")


class Cluster:
    """Starts and stops the servers; requests go to nginx, or to one app server as if from nginx."""

    name, token = NAME, TOKEN

    def __init__(self, folder, database_url):
        self.folder, self.database_url = folder, database_url
        self.ports = {"first": free_port(), "second": free_port()}
        self.plain, self.https = free_port(), free_port()
        self.servers = {}
        self.nginx = None
        self.cookies = {}

    def trainer(self, *words):
        return [sys.executable, "-m", "trainer.cli", *words]

    def start(self, name):
        """Start an app server, as on a host of its own: its folder is nobody else's."""
        if name in self.servers and self.servers[name].poll() is None:
            return
        environ = {key: value for key, value in os.environ.items() if not key.startswith(("TRAINER_", "PROMETHEUS_"))}
        environ |= {
            "TRAINER_INSTANCE": str(self.folder / name),
            "TRAINER_DATABASE": self.database_url,
            "TRAINER_SECRET_KEY": KEY,
            "TRAINER_HOSTS": NAME,
            "TRAINER_PROXIES": "1",
            "TRAINER_METRICS_TOKEN": TOKEN,
        }
        command = self.trainer("serve", "--port", str(self.ports[name]), "--workers", "2")
        with (self.folder / f"{name}.log").open("ab") as log:
            self.servers[name] = subprocess.Popen(command, env=environ, stdout=log, stderr=log, start_new_session=True)
        until = time.monotonic() + PATIENCE
        while time.monotonic() < until and self.servers[name].poll() is None:
            with suppress(OSError, http.client.HTTPException):
                if self.ask("/readyz", to=name).status == 200:
                    self._forget_failures()
                    return
            time.sleep(0.1)
        raise RuntimeError((self.folder / f"{name}.log").read_text())

    def _forget_failures(self):
        """nginx leaves a server alone for five seconds that it found gone, and a test may have killed this one just now."""
        if self.nginx is not None and self.nginx.poll() is None:
            self.nginx.send_signal(signal.SIGHUP)

    def start_nginx(self):
        servers = [word for port in self.ports.values() for word in ("--server", f"127.0.0.1:{port}")]
        command = self.trainer("example", "nginx", "--name", NAME, *servers)
        site = subprocess.run(command, capture_output=True, text=True, check=True).stdout
        self._certificate()
        for told, here in {
            "listen 80;": f"listen 127.0.0.1:{self.plain};",
            "listen 443 ssl;": f"listen 127.0.0.1:{self.https} ssl;",
            "/etc/ssl/trainer/": f"{self.folder}/",
            "/var/log/nginx/": f"{self.folder}/",
        }.items():
            assert told in site
            site = site.replace(told, here)
        (self.folder / "site.conf").write_text(site)
        user = "user root;" if os.getuid() == 0 else ""
        (self.folder / "nginx.conf").write_text(AROUND.format(folder=self.folder, user=user))
        command = [nginx_program(), "-p", self.folder, "-c", self.folder / "nginx.conf"]
        with (self.folder / "start.log").open("ab") as log:
            self.nginx = subprocess.Popen(command, stdout=log, stderr=log)
        until = time.monotonic() + PATIENCE
        while time.monotonic() < until and self.nginx.poll() is None:
            with suppress(OSError), closing(socket.create_connection(("127.0.0.1", self.https), 1)):
                return
            time.sleep(0.05)
        raise RuntimeError((self.folder / "start.log").read_text())

    def _certificate(self):
        words = f"req -x509 -newkey ec -pkeyopt ec_paramgen_curve:prime256v1 -nodes -days 2 -subj /CN={NAME}".split()
        files = ["-keyout", self.folder / "privkey.pem", "-out", self.folder / "fullchain.pem"]
        subprocess.run(["openssl", *words, *files], capture_output=True, check=True)

    def kill(self, name):
        """All of a server at once, as when its host goes."""
        os.killpg(self.servers[name].pid, signal.SIGKILL)
        self.servers[name].wait()

    def stop(self):
        for server in self.servers.values():
            if server.poll() is None:
                server.terminate()
        if self.nginx is not None:
            self.nginx.terminate()
        for one in (*self.servers.values(), *([self.nginx] if self.nginx else [])):
            one.wait(PATIENCE)

    def workers(self, name):
        children = Path(f"/proc/{self.servers[name].pid}/task/{self.servers[name].pid}/children").read_text()
        return [int(pid) for pid in children.split()]

    def ask(self, path, data=None, *, to="nginx", headers=None):
        """One request with this browser's cookies; what comes back is not followed."""
        sent = {"Host": NAME, "Cookie": "; ".join(f"{name}={value}" for name, value in self.cookies.items())}
        sent |= {} if to in {"nginx", "plain"} else AS_PROXY
        body = None
        if data is not None:
            body = urlencode(data)
            sent |= {"Content-Type": "application/x-www-form-urlencoded", "Referer": f"https://{NAME}{path}"}
        with closing(self._connection(to)) as connection:
            connection.request("GET" if body is None else "POST", path, body, sent | (headers or {}))
            answer = connection.getresponse()
            shown = Shown(answer.status, answer.headers, answer.read().decode())
        for line in shown.headers.get_all("Set-Cookie") or []:
            name, value = line.split(";")[0].split("=", 1)
            self.cookies[name] = value
        return shown

    def _connection(self, to):
        if to == "nginx":
            trusting = ssl.create_default_context(cafile=self.folder / "fullchain.pem")
            trusting.check_hostname = False
            return http.client.HTTPSConnection("127.0.0.1", self.https, timeout=PATIENCE, context=trusting)
        port = self.plain if to == "plain" else self.ports[to]
        return http.client.HTTPConnection("127.0.0.1", port, timeout=PATIENCE)


@pytest.fixture(scope="session")
def cluster_on():
    """Makes a cluster, of which nothing runs yet."""
    if not (nginx_program() and shutil.which("openssl")):
        pytest.skip("needs nginx and openssl; on Debian: apt-get install nginx openssl")
    return Cluster
