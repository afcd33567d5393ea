"""A client of a language server: the few requests that the tests of the editor need, over its standard streams.

Source of messages and framing: the Language Server Protocol's published specification, version 3.17.
"""

from __future__ import annotations

import json
import queue
import subprocess
import threading
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

PATIENCE_S = 60.0
"""A server that says nothing for so long has failed."""
NOT_SUPPORTED = -32601
"""The protocol's code for a request that is not known."""

Message = dict[str, Any]


class LanguageServer:
    """A running server with one folder open."""

    def __init__(self, command: Sequence[str], folder: Path, settings: Mapping[str, Any]) -> None:
        """Start the server and open a folder; settings are by section."""
        self._process = subprocess.Popen(
            command, cwd=folder, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL
        )
        self._settings = settings
        self._messages: queue.Queue[Message | None] = queue.Queue()
        self._ids = 0
        threading.Thread(target=self._listen, daemon=True).start()
        root = {"uri": folder.as_uri(), "name": folder.name}
        abilities = {
            "workspace": {"configuration": True, "workspaceFolders": True},
            "textDocument": {
                "publishDiagnostics": {},
                "hover": {"contentFormat": ["plaintext", "markdown"]},
                "completion": {"completionItem": {"snippetSupport": False}},
            },
        }
        asked = {"processId": None, "rootUri": root["uri"], "workspaceFolders": [root], "capabilities": abilities}
        self.request("initialize", asked)
        self.notify("initialized", {})
        self.notify("workspace/didChangeConfiguration", {"settings": settings})

    def request(self, method: str, params: Mapping[str, Any]) -> Any:
        """Send a request and return its result; what the server asks meanwhile is answered."""
        self._ids += 1
        self._send({"id": self._ids, "method": method, "params": params})
        reply = self._wait_for(lambda message: message.get("id") == self._ids and "method" not in message)
        assert "error" not in reply, reply["error"]
        return reply["result"]

    def notify(self, method: str, params: Mapping[str, Any]) -> None:
        """Send a notification."""
        self._send({"method": method, "params": params})

    def open(self, path: Path, text: str) -> list[Message]:
        """Open a file with a text, and return what the server finds wrong with it."""
        document = {"uri": path.as_uri(), "languageId": "yaml", "version": 1, "text": text}
        self.notify("textDocument/didOpen", {"textDocument": document})
        return self._published(path)

    def close(self, path: Path) -> None:
        """Close a file, and wait until the server has taken back what it found there."""
        self.notify("textDocument/didClose", {"textDocument": {"uri": path.as_uri()}})
        assert self._published(path) == []

    def at(self, what: str, path: Path, line: int, column: int) -> Any:
        """Ask for `hover` or `completion` at a place of an open file, counted from 0."""
        place = {"textDocument": {"uri": path.as_uri()}, "position": {"line": line, "character": column}}
        return self.request(f"textDocument/{what}", place)

    def stop(self) -> None:
        """End the server."""
        self._process.kill()
        self._process.wait()
        for stream in (self._process.stdin, self._process.stdout):
            if stream is not None:
                stream.close()

    def _published(self, path: Path) -> list[Message]:
        published = self._wait_for(
            lambda message: (
                message.get("method") == "textDocument/publishDiagnostics" and message["params"]["uri"] == path.as_uri()
            )
        )
        found: list[Message] = published["params"]["diagnostics"]
        return found

    def _wait_for(self, wanted: Any) -> Message:
        while True:
            message = self._messages.get(timeout=PATIENCE_S)
            assert message is not None, "the language server has ended"
            if wanted(message):
                return message
            if "method" in message and "id" in message:
                self._answer(message)

    def _answer(self, message: Message) -> None:
        if message["method"] == "workspace/configuration":
            sections = [item.get("section", "") for item in message["params"]["items"]]
            self._send({"id": message["id"], "result": [self._settings.get(section) for section in sections]})
        elif message["method"] in ("client/registerCapability", "window/workDoneProgress/create"):
            self._send({"id": message["id"], "result": None})
        else:
            self._send({"id": message["id"], "error": {"code": NOT_SUPPORTED, "message": "not supported"}})

    def _send(self, message: Message) -> None:
        body = json.dumps({"jsonrpc": "2.0", **message}).encode("utf-8")
        assert self._process.stdin is not None
        self._process.stdin.write(b"Content-Length: %d\r\n\r\n" % len(body) + body)
        self._process.stdin.flush()

    def _listen(self) -> None:
        stream = self._process.stdout
        assert stream is not None
        try:
            while True:
                length = 0
                while (line := stream.readline().strip()) or not length:
                    name, _, value = line.partition(b":")
                    if name.lower() == b"content-length":
                        length = int(value)
                    elif not line:
                        raise EOFError
                self._messages.put(json.loads(stream.read(length)))
        except (EOFError, ValueError):
            self._messages.put(None)
