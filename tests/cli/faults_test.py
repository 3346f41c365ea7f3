"""A disk that is full, a folder that takes nothing, a pipe that closes early, an end in the middle of a write, a
signal during spread: the file that was there stays whole, nothing is left beside it, the exit code tells
and so does a sentence. And a profile reads nothing but what stands beside it.

faults_test.py TWOTURN. The kernel itself makes the faults: a limit on a file's size (write(2): EFBIG, or
SIGXFSZ in the middle of the write), /dev/full (ENOSPC), a closed pipe (EPIPE, SIGPIPE)."""

import os
import pathlib
import resource
import shutil
import signal
import subprocess
import sys
import tempfile
import time

ROOT = pathlib.Path(__file__).parents[2]
TWOTURN = pathlib.Path(sys.argv[1]).resolve()
PROFILE = ROOT / "profiles/night-bakery-van.toml"
MEASURED = ROOT / "profiles/weir-keeper.toml"
COMMANDS = {
    "report": ["report", str(PROFILE)],
    "sheet": ["sheet", str(PROFILE)],
    "draw": ["draw", str(PROFILE)],
    "starter": ["starter"],
}  # each writes more than the limit below
LIMIT = 3000
OLD = "what was there before\n"
NOT_WRITTEN = 4
NOBODY = 65534


def limited(ignored):
    def before():
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN if ignored else signal.SIG_DFL)
        resource.setrlimit(resource.RLIMIT_FSIZE, (LIMIT, LIMIT))
    return before


def run(arguments, **how):
    return subprocess.run([TWOTURN, *arguments], capture_output=True, text=True, check=False, stdin=subprocess.DEVNULL, **how)


def untouched(folder, names):
    assert sorted(p.name for p in folder.iterdir()) == sorted(names), list(folder.iterdir())
    for name in names:
        assert (folder / name).read_text() == OLD, name


def in_folder(test):
    with tempfile.TemporaryDirectory() as made:
        test(pathlib.Path(made))


def disk_is_full(folder):
    for name, command in COMMANDS.items():
        for old in (False, True):
            target = folder / "out.html"
            if old:
                target.write_text(OLD)
            ran = run([*command, "-o", str(target), "--force"], preexec_fn=limited(True))
            assert ran.returncode == NOT_WRITTEN, (name, ran)
            assert str(target) in ran.stderr and "cannot be written" in ran.stderr, (name, ran.stderr)
            untouched(folder, ["out.html"] if old else [])
            target.unlink(missing_ok=True)


def ended_in_the_middle(folder):
    for name, command in COMMANDS.items():
        target = folder / "out.html"
        target.write_text(OLD)
        ran = run([*command, "-o", str(target), "--force"], preexec_fn=limited(False))
        assert ran.returncode == -signal.SIGXFSZ, (name, ran)
        untouched(folder, ["out.html"])


def folder_takes_nothing(folder):
    for name, command in COMMANDS.items():
        ran = run([*command, "-o", str(folder / "none" / "out.html")])
        assert ran.returncode == NOT_WRITTEN and "none/out.html" in ran.stderr, (name, ran)
        assert "No such file or directory" in ran.stderr, (name, ran.stderr)
    untouched(folder, [])
    # Root may write anywhere: somebody else tries. The program and the profile are where they can read them.
    folder.chmod(0o755)
    program = pathlib.Path(shutil.copy(TWOTURN, folder / "program"))
    program.chmod(0o755)
    (folder / "profile.toml").write_text(PROFILE.read_text())
    shut = folder / "shut"
    shut.mkdir()
    (shut / "out.html").write_text(OLD)
    shut.chmod(0o555)
    somebody = {"user": NOBODY, "group": NOBODY, "extra_groups": []} if os.geteuid() == 0 else {}
    for command in ("report", "sheet", "draw"):
        ran = subprocess.run([program, command, str(folder / "profile.toml"), "-o", str(shut / "out.html"), "--force"],
                             capture_output=True, text=True, check=False, cwd="/", **somebody)
        assert ran.returncode == NOT_WRITTEN and "Permission denied" in ran.stderr, (command, ran)
        untouched(shut, ["out.html"])
    shut.chmod(0o755)


def pipe_closes_early(_):
    for name, command in COMMANDS.items():
        for ignored, expected in ((True, NOT_WRITTEN), (False, -signal.SIGPIPE)):
            read, write = os.pipe()
            os.close(read)
            how = signal.SIG_IGN if ignored else signal.SIG_DFL
            ran = subprocess.run([TWOTURN, *command], stdout=write, stderr=subprocess.PIPE, text=True, check=False,
                                 restore_signals=False, preexec_fn=lambda how=how: signal.signal(signal.SIGPIPE, how))
            os.close(write)
            assert ran.returncode == expected, (name, ignored, ran)
            assert ("could not be written" in ran.stderr) == ignored, (name, ran.stderr)


def signal_during_spread(_):
    few = 20000
    begun = time.monotonic()
    run(["spread", str(MEASURED), "--samples", str(few), "--threads", "1"])
    samples = int(20.0 / (time.monotonic() - begun) * few)  # 20 s of one core, whatever the build
    for number in (signal.SIGINT, signal.SIGTERM):
        asked = subprocess.Popen([TWOTURN, "spread", str(MEASURED), "--samples", str(samples), "--threads", "2"],
                                 stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
        time.sleep(1.0)
        begun = time.monotonic()
        asked.send_signal(number)
        out, err = asked.communicate(timeout=300)
        assert asked.returncode == 128 + number, (number, asked.returncode, out, err)
        assert f"Interrupted: of {samples} asked for" in out, (number, out)
        print(f"spread ended {time.monotonic() - begun:.1f} s after signal {int(number)} with {asked.returncode}")


def profile_reaches_nothing_else(folder):
    beside = folder / "beside"
    beside.mkdir()
    text = (ROOT / "profiles/hill-climb-saloon.toml").read_text()
    table = "hill-climb-saloon-inlet.csv"
    assert f'"{table}"' in text
    for path in ROOT.glob("profiles/hill-climb-saloon*.csv"):
        shutil.copy(path, beside)
        shutil.copy(path, folder)
    profile = beside / "profile.toml"
    profile.write_text(text)
    assert run(["check", str(profile)]).returncode in (0, 1)
    for name in (f"../{table}", f"{folder}/{table}", f"./{table}", f"x/../{table}", "/etc/passwd", "..", ".", "",
                 f"file://{folder}/{table}", f"..\\\\{table}", f"{table}\\u0000"):
        profile.write_text(text.replace(f'"{table}"', f'"{name}"'))
        ran = run(["check", str(profile)])
        assert ran.returncode == 3, (name, ran)
        assert "profile.toml:" in ran.stderr, (name, ran.stderr)
        assert "must be the plain name of a file beside the profile" in ran.stderr or name in ("", f"{table}\\u0000"), (
            name, ran.stderr)
    # From another working folder the table is still the one beside the profile.
    profile.write_text(text)
    assert run(["check", str(profile)], cwd="/").stdout == run(["check", str(profile)], cwd=folder).stdout


for each in (disk_is_full, ended_in_the_middle, folder_takes_nothing, pipe_closes_early, signal_during_spread,
             profile_reaches_nothing_else):
    in_folder(each)
    print(f"{each.__name__}: as it should be", flush=True)
