# SPDX-License-Identifier: BSD-3-Clause
"""`python -m ringwright`, the same as `ringwright`."""

from ringwright.cli import main

if __name__ == "__main__":
    main()
