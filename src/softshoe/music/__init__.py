"""Music: reading a recording and hearing its count."""
