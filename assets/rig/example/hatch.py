# The hatch of a goose house as a firmware in Python: dozewatch rig --process "python3 hatch.py" week.yaml
# It speaks the protocol of docs/rig.md: one line asks, one line answers. What it keeps over sleep it retains as a line of JSON.
import json
import sys


class Woken(Exception):
    """The device was reset, or lost its power, while it waited for an answer."""

    def __init__(self, line):
        super().__init__(line)
        self.line = line


def hear():
    line = sys.stdin.readline()
    if not line:
        sys.exit(0)
    return line.rstrip("\n")


def ask(request):
    print(request, flush=True)
    answer = hear()
    if answer.startswith("wake "):
        raise Woken(answer)
    return answer


def wake(cause, retained):
    kept = json.loads(retained) if retained else {"looks": 0, "unsent": False, "tries": 0, "called_ms": None}
    if ask("contact") == "open":
        kept["looks"] = min(2, kept["looks"] + 1)
    else:
        kept["looks"], kept["called_ms"] = 0, None
    called_ms = kept["called_ms"]
    if called_ms is not None and int(ask("clock")) - called_ms >= 1800000:
        called_ms = kept["called_ms"] = None
    if kept["looks"] == 2 and called_ms is None:
        kept["unsent"] = True
    sleep_ms = 120000
    if kept["unsent"]:
        ask("retain " + json.dumps(kept))
        if ask("send the hatch is open") == "delivered":
            kept.update(unsent=False, tries=0, called_ms=int(ask("clock")))
        else:
            kept["tries"] = (kept["tries"] + 1) % 5
            sleep_ms = 60000 if kept["tries"] else 120000
    ask("retain " + json.dumps(kept))
    ask("sleep %d" % sleep_ms)


line = hear()
while True:
    try:
        _, cause, retained = line.split(" ", 2)
        wake(cause, retained)
    except Woken as woken:
        line = woken.line
