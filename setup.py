"""Packages the example machines, which stand in `examples/` for people, as `fingertight.examples` for the program.

Said here and not in pyproject.toml, which cannot both find packages and name one that lies elsewhere.
"""

from setuptools import find_packages, setup

setup(
    packages=[*find_packages("src"), "fingertight.examples"],
    package_dir={"": "src", "fingertight.examples": "examples"},
)
