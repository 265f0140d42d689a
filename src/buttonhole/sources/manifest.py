"""Write the list of data files anew after a deliberate change, or compare it.

``python -m buttonhole.sources.manifest`` writes it; with ``--check`` it only says whether the
files are as listed.
"""

import sys

from buttonhole.sources.checksum import DATA, NAME, build, data_files, differences


def main(arguments: list[str]) -> int:
    """Write the manifest, or with ``--check`` compare it; return the exit status."""
    if arguments == ["--check"]:
        lines = differences()
        sys.stdout.write("".join(f"{line}\n" for line in lines) or "all data files are as listed\n")
        return 1 if lines else 0
    if arguments:
        sys.stderr.write("usage: python -m buttonhole.sources.manifest [--check]\n")
        return 2
    (DATA / NAME).write_text(build(), encoding="utf-8")
    sys.stdout.write(f"{len(data_files())} files listed\n")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
