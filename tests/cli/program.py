"""What the tests of files share: running the program, and failing."""
import pathlib
import resource
import subprocess
import sys

PROGRAM, DATA, WORK = sys.argv[1:4]


def run(*words, status=0, stdin=None, limit=None, stdout=subprocess.PIPE):
    """@param limit  most bytes of a file that it writes"""
    def before():
        if limit is not None:
            resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit))

    done = subprocess.run([PROGRAM, *map(str, words)], stdout=stdout, stderr=subprocess.PIPE, text=True, stdin=stdin,
                          preexec_fn=before)
    if done.returncode != status:
        sys.exit(f"{words}: status {done.returncode}, expected {status}\n{done.stderr}")
    return done


def run_what_if(*words, **how):
    return run("whatif", *words, **how)


def expect(holds, what):
    if not holds:
        sys.exit("failed: " + what)


def journal(file):
    return pathlib.Path(str(file) + ".journal")
