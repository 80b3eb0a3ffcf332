# SPDX-License-Identifier: BSD-3-Clause
"""Where the ring stands, as pages, reports and the command line show it."""

from ringwright.desk.site.picture import site_parts
from ringwright.desk.site.view import Section, SiteView, usual_limits

__all__ = ["Section", "SiteView", "site_parts", "usual_limits"]
