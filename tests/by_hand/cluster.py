#!/usr/bin/env python3
"""The README's two recipes for clusters, on one machine: Dask with two workers, Spark in local mode.

    cargo run --release --example shelf -- 10000 1 - > shelf.jsonl
    python3 tests/by_hand/cluster.py target/release/capwright shelf.jsonl

Makes a virtual environment beside the results and installs both from the registry (about 500 MB; Spark needs Java 17 or
newer). Every answer must be, byte for byte, what one process gives for the same `id`. Two things differ by
nature and are taken into account: `line` counts within the piece that a worker gets, and the engines' writers may leave
out the end of the last line.
"""

import json
import os
import subprocess
import sys
import time
from pathlib import Path

NEEDED = ["dask[distributed]", "pyspark"]


def by_id(lines):
    """Each answer as its bytes without the number of its line, under its id."""
    answers = {}
    for line in lines:
        answer = json.loads(line)
        start = f'{{"line":{answer["line"]},' if line.startswith('{"line":') else None
        rest = line[len(start):] if start else json.dumps({k: v for k, v in answer.items() if k != "line"}, sort_keys=True)
        assert answer["id"] not in answers, f"{answer['id']} is there twice"
        answers[answer["id"]] = rest
    return answers


def written(folder):
    """The lines of all pieces in a folder; the last one may have no end."""
    for piece in sorted(Path(folder).iterdir()):
        if piece.name.startswith((".", "_")) or piece.stat().st_size == 0:
            continue
        yield from piece.read_text().split("\n") if not piece.read_text().endswith("\n") else piece.read_text().split("\n")[:-1]


def with_dask(program, lines, to):
    import dask.bag
    from dask.distributed import Client, LocalCluster

    def run(part):
        done = subprocess.run([program, "convert", "--lines", "--jobs", "1"], input="".join(part), capture_output=True, text=True)
        return done.stdout.splitlines()

    with LocalCluster(n_workers=2, threads_per_worker=1, dashboard_address=None) as cluster, Client(cluster):
        dask.bag.read_text(lines, blocksize="256KB").map_partitions(run).to_textfiles(f"{to}/*.jsonl")


def with_spark(program, lines, to):
    from pyspark import SparkConf, SparkContext

    sc = SparkContext(conf=SparkConf().setMaster("local[2]").setAppName("caps").set("spark.ui.enabled", "false"))
    sc.setLogLevel("ERROR")
    sc.textFile(lines, 64).pipe(f"sh -c '{program} convert --lines --jobs 1 2>/dev/null || [ $? -le 2 ]'").saveAsTextFile(to)
    sc.stop()


def main(program, lines):
    program, lines = str(Path(program).resolve()), str(Path(lines).resolve())
    work = Path(lines).parent / "cluster"
    work.mkdir(exist_ok=True)
    python = work / "venv/bin/python"
    if sys.prefix == sys.base_prefix:
        if not python.exists():
            subprocess.run([sys.executable, "-m", "venv", work / "venv"], check=True)
            subprocess.run([python, "-m", "pip", "install", "-q", *NEEDED], check=True)
        os.execv(python, [str(python), __file__, program, lines])
    began = time.monotonic()
    alone = subprocess.run([program, "convert", "--lines", "--jobs", "1", lines], capture_output=True, text=True)
    assert alone.returncode in (0, 1, 2), alone.stderr
    wanted = by_id(alone.stdout.splitlines())
    print(f"one process: {len(wanted)} answers, {time.monotonic() - began:.0f} s")
    for name, engine in [("Dask, two workers", with_dask), ("Spark, local[2]", with_spark)]:
        to = str(work / name.split(",")[0].lower())
        subprocess.run(["rm", "-rf", to], check=True)
        began = time.monotonic()
        engine(program, lines, to)
        took = time.monotonic() - began
        found = by_id(written(to))
        assert found.keys() == wanted.keys(), f"{name}: {len(found)} answers"
        different = [key for key in wanted if found[key] != wanted[key]]
        assert not different, f"{name}: {len(different)} differ, the first is {different[0]}"
        print(f"{name}: {len(found)} answers, the same bytes, {took:.0f} s")


if __name__ == "__main__":
    main(*sys.argv[1:])
