"""``python -m softshoe``: the same as the command ``softshoe``."""

from softshoe.cli.main import run

if __name__ == "__main__":
    run()
