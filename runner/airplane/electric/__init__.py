"""The airplane as a direct-current network: volts, amperes, and what they do as time goes on."""
