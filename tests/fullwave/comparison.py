"""Puts questions to the program and says how far its answers lie from fresh figures of a field solver."""
import subprocess
import sys


def ask(program, questions):
    """One answer in dB for each question, a list of fields (see ask.hpp)."""
    lines = "".join("\t".join(str(field) for field in question) + "\n" for question in questions)
    result = subprocess.run([program, "--ask"], input=lines, capture_output=True, text=True)
    if result.returncode != 0:
        sys.exit(result.stderr)
    answers = [float(line) for line in result.stdout.split()]
    if len(answers) != len(questions):
        sys.exit("the program left a question unanswered")
    return answers


class Verdict:
    """Prints each comparison; finish() ends the process with 1 when one was outside its limit."""

    def __init__(self):
        self.failed = False

    def compare(self, what, program_db, solver_db, limit_db):
        apart = program_db - solver_db
        kept = abs(apart) <= limit_db
        self.failed = self.failed or not kept
        print(f"{what}: program {program_db:.3f}, solver {solver_db:.3f}, apart {apart:+.3f} dB, "
              f"limit {limit_db} dB, {'kept' if kept else 'NOT KEPT'}", flush=True)

    def finish(self):
        sys.exit(1 if self.failed else 0)
