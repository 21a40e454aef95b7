#!/usr/bin/env python3
"""Time from start to the first frame, and from a key to the frame with its numbers, in a pseudo-terminal of 200x60.

Run by hand after `cargo build --release`:  python3 tests/bench/screen.py target/release/thistledown
The second half turns a dial while a search runs beside it. A frame counts as drawn when the program has been silent for
3 ms after writing; that silence is taken off again. Standard library only.
"""
import fcntl, os, pty, select, shutil, signal, struct, sys, tempfile, termios, time

QUIET_S = 0.003


def start(program, scenario):
    pid, fd = pty.fork()
    if pid == 0:
        os.environ["TERM"] = "xterm-256color"
        os.execv(program, [program, scenario])
    fcntl.ioctl(fd, termios.TIOCSWINSZ, struct.pack("HHHH", 60, 200, 0, 0))
    return pid, fd


def frame(fd, since, least, limit=2.0):
    """Seconds from `since` until at least `least` bytes were written and a silence followed."""
    seen, last = 0, since
    while time.perf_counter() - since < limit:
        ready, _, _ = select.select([fd], [], [], QUIET_S)
        if ready:
            seen += len(os.read(fd, 1 << 16))
            last = time.perf_counter()
        elif seen >= least:
            return last - since
    return float("nan")


def median(values):
    values = sorted(v for v in values if v == v)
    return values[len(values) // 2] if values else float("nan")


def turns(fd, n=40):
    out = []
    for i in range(n):
        time.sleep(0.12)
        while select.select([fd], [], [], 0)[0]:
            os.read(fd, 1 << 16)
        began = time.perf_counter()
        os.write(fd, b"\x1b[C" if i % 2 == 0 else b"\x1b[D")
        out.append(frame(fd, began, 40))
    return out


def main():
    program = os.path.abspath(sys.argv[1])
    scenario = os.path.join(os.path.dirname(__file__), "../../scenarios/marram-mixed.toml")
    with tempfile.TemporaryDirectory() as folder:
        own = shutil.copy(scenario, os.path.join(folder, "wing.toml"))
        firsts = []
        for _ in range(11):
            began = time.perf_counter()
            pid, fd = start(program, own)
            firsts.append(frame(fd, began, 2000))
            os.kill(pid, signal.SIGKILL)
            os.waitpid(pid, 0)
            os.close(fd)
        print(f"first frame: median {1e3 * median(firsts):.1f} ms, worst {1e3 * max(firsts):.1f} ms")
        pid, fd = start(program, own)
        frame(fd, time.perf_counter(), 2000)
        quiet = turns(fd)
        print(f"turn to frame, quiet: median {1e3 * median(quiet):.1f} ms, worst {1e3 * max(quiet):.1f} ms")
        os.write(fd, b"7")
        time.sleep(0.3)
        os.write(fd, b"s")
        time.sleep(0.2)
        os.write(fd, b"1")
        time.sleep(0.2)
        busy = turns(fd)
        print(f"turn to frame while a search runs: median {1e3 * median(busy):.1f} ms, worst {1e3 * max(busy):.1f} ms")
        os.kill(pid, signal.SIGKILL)
        os.waitpid(pid, 0)


main()
