"""On the air: reports read strictly, laid on the globe, and two antennas compared fairly."""
