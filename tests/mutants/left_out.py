"""The files of tests that no mutant is tried by, each with its reason."""

GOLDEN = "compares with texts that the program wrote itself: it notices any change, whether it is wrong or not"
OUTSIDE = "runs what is built or installed, never the copy"
LEFT_OUT: dict[str, str] = {
    "tests/test_asked_bikes.py": GOLDEN,
    "tests/test_diff_calls.py": GOLDEN,
    "tests/test_golden.py": GOLDEN,
    "tests/test_golden_pictures.py": GOLDEN,
    "tests/test_plan_of_two.py": GOLDEN,
    "tests/test_readme.py": GOLDEN,
    "tests/test_reasons.py": GOLDEN,
    "tests/test_sheet_texts.py": GOLDEN,
    "tests/test_wheel.py": OUTSIDE,
    "tests/test_versions.py": OUTSIDE,
    "tests/test_mutants.py": "tries mutants of its own",
    "tests/test_kills.py": "kills commands at each of their steps: slow, and of the disk alone",
}
